"""The first tables, and the triggers that keep the trail append-only and signed records as they are."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

_EXAM = ("exam_id", "examination.id")
_SIGNED_TABLES = ("finding", "evidence", "gap", "audio", "transcript", "entry")


def upgrade() -> None:
    op.create_table(
        "examination",
        sa.Column("id", sa.String, nullable=False),
        sa.Column("title", sa.Text, nullable=False),
        sa.Column("speaker", sa.String),
        sa.Column("created", sa.String, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("amends", sa.String),
        sa.Column("revision", sa.Integer, nullable=False),
        sa.Column("head", sa.String, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_examination"),
        sa.ForeignKeyConstraint(["amends"], ["examination.id"], name="fk_examination_amends"),
        sa.UniqueConstraint("amends", name="uq_examination_amends"),
    )
    op.create_table(
        "finding",
        sa.Column("exam_id", sa.String, nullable=False),
        sa.Column("id", sa.String, nullable=False),
        sa.Column("position", sa.Integer, nullable=False),
        sa.Column("data", sa.Text, nullable=False),
        sa.Column("decision", sa.String),
        sa.Column("open", sa.Boolean, nullable=False),
        sa.Column("revision", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("exam_id", "id", name="pk_finding"),
        _to_exam("finding"),
    )
    op.create_table(
        "evidence",
        sa.Column("exam_id", sa.String, nullable=False),
        sa.Column("finding_id", sa.String, nullable=False),
        sa.Column("position", sa.Integer, nullable=False),
        sa.Column("start", sa.Double, nullable=False),
        sa.Column("end", sa.Double, nullable=False),
        sa.Column("heard", sa.Text, nullable=False),
        sa.Column("mended", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("exam_id", "finding_id", "position", name="pk_evidence"),
        sa.ForeignKeyConstraint(
            ["exam_id", "finding_id"], ["finding.exam_id", "finding.id"], name="fk_evidence_exam_id"
        ),
    )
    op.create_table(
        "gap",
        sa.Column("exam_id", sa.String, nullable=False),
        sa.Column("id", sa.String, nullable=False),
        sa.Column("position", sa.Integer, nullable=False),
        sa.Column("kind", sa.String, nullable=False),
        sa.Column("data", sa.Text, nullable=False),
        sa.Column("decision", sa.String),
        sa.Column("open", sa.Boolean, nullable=False),
        sa.Column("revision", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("exam_id", "id", name="pk_gap"),
        _to_exam("gap"),
    )
    op.create_table(
        "audio",
        sa.Column("exam_id", sa.String, nullable=False),
        sa.Column("file", sa.String, nullable=False),
        sa.Column("sha256", sa.String, nullable=False),
        sa.Column("size", sa.Integer, nullable=False),
        sa.Column("duration", sa.Double, nullable=False),
        sa.Column("deleted", sa.String),
        sa.PrimaryKeyConstraint("exam_id", name="pk_audio"),
        sa.UniqueConstraint("file", name="uq_audio_file"),
        _to_exam("audio"),
    )
    op.create_table(
        "transcript",
        sa.Column("exam_id", sa.String, nullable=False),
        sa.Column("data", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("exam_id", name="pk_transcript"),
        _to_exam("transcript"),
    )
    op.create_table(
        "entry",
        sa.Column("exam_id", sa.String, nullable=False),
        sa.Column("number", sa.Integer, nullable=False, autoincrement=False),
        sa.Column("at", sa.String, nullable=False),
        sa.Column("who", sa.String, nullable=False),
        sa.Column("action", sa.String, nullable=False),
        sa.Column("items", sa.String, nullable=False),
        sa.Column("change", sa.Text, nullable=False),
        sa.Column("previous", sa.String, nullable=False),
        sa.Column("hash", sa.String, nullable=False),
        sa.PrimaryKeyConstraint("exam_id", "number", name="pk_entry"),
        _to_exam("entry"),
    )
    op.create_table(
        "signature",
        sa.Column("exam_id", sa.String, nullable=False),
        sa.Column("at", sa.String, nullable=False),
        sa.Column("name", sa.String, nullable=False),
        sa.Column("role", sa.String, nullable=False),
        sa.Column("statement", sa.Text, nullable=False),
        sa.Column("head", sa.String, nullable=False),
        sa.PrimaryKeyConstraint("exam_id", name="pk_signature"),
        _to_exam("signature"),
    )
    op.create_table(
        "deletion",
        sa.Column("exam_id", sa.String, nullable=False),
        sa.Column("at", sa.String, nullable=False),
        sa.Column("who", sa.String, nullable=False),
        sa.Column("head", sa.String, nullable=False),
        sa.PrimaryKeyConstraint("exam_id", name="pk_deletion"),
    )
    op.create_table(
        "learned",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("speaker", sa.String, nullable=False),
        sa.Column("heard", sa.Text, nullable=False),
        sa.Column("term", sa.Text, nullable=False),
        sa.Column("count", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_learned"),
        sa.UniqueConstraint("speaker", "heard", "term", name="uq_learned_speaker"),
    )
    op.create_table(
        "store_key",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("salt", sa.String, nullable=False),
        sa.Column("cost", sa.Integer, nullable=False),
        sa.Column("wrapped", sa.String, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_store_key"),
    )
    if op.get_bind().dialect.name == "postgresql":
        _postgresql_triggers()
    else:
        _sqlite_triggers()


def _to_exam(table: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint([_EXAM[0]], [_EXAM[1]], name=f"fk_{table}_exam_id")


def _guards() -> list[tuple[str, str, str, str]]:
    """(table, operation, condition that refuses it, message). A `deletion` line lets a whole record go."""
    signed = "EXISTS (SELECT 1 FROM signature WHERE exam_id = {row}.{column})"
    deleted = "EXISTS (SELECT 1 FROM deletion WHERE exam_id = {row}.{column})"
    guards = []
    for table in (*_SIGNED_TABLES, "examination"):
        column = "id" if table == "examination" else "exam_id"
        for operation, row in (("INSERT", "NEW"), ("UPDATE", "OLD"), ("DELETE", "OLD")):
            condition = signed.format(row=row, column=column)
            if operation == "DELETE":
                condition += " AND NOT " + deleted.format(row=row, column=column)
            guards.append((table, operation, condition, "the record is signed"))
    for table in ("entry", "signature"):
        guards.append((table, "UPDATE", "1 = 1", "the trail is append-only"))
        condition = "NOT " + deleted.format(row="OLD", column="exam_id")
        guards.append((table, "DELETE", condition, "the trail is append-only"))
    guards += [("deletion", operation, "1 = 1", "the trail is append-only") for operation in ("UPDATE", "DELETE")]
    return guards


def _sqlite_triggers() -> None:
    for number, (table, operation, condition, message) in enumerate(_guards()):
        op.execute(
            f"CREATE TRIGGER guard_{number} BEFORE {operation} ON {table} WHEN {condition} "
            f"BEGIN SELECT RAISE(ABORT, '{message}'); END"
        )


def _postgresql_triggers() -> None:
    op.execute(
        "CREATE FUNCTION refuse() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN RAISE EXCEPTION '%', TG_ARGV[0]; END $$"
    )
    # A trigger's WHEN may not look into other tables, so each condition is a function of its own.
    for number, (table, operation, condition, message) in enumerate(_guards()):
        result = "OLD" if operation == "DELETE" else "NEW"
        op.execute(
            f"CREATE FUNCTION guard_{number}() RETURNS trigger LANGUAGE plpgsql AS "
            f"$$ BEGIN IF {condition} THEN RAISE EXCEPTION '{message}'; END IF; RETURN {result}; END $$"
        )
        op.execute(
            f"CREATE TRIGGER guard_{number} BEFORE {operation} ON {table} "
            f"FOR EACH ROW EXECUTE FUNCTION guard_{number}()"
        )
    for table in (*_SIGNED_TABLES, "signature", "deletion", "examination"):
        op.execute(
            f"CREATE TRIGGER no_truncate BEFORE TRUNCATE ON {table} "
            "FOR EACH STATEMENT EXECUTE FUNCTION refuse('the trail is append-only')"
        )
