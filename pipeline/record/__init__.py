"""The record: its models, store, audit trail, signing, scores and comparison."""

from pipeline.record.model import (
    Alternative,
    Basis,
    Evidence,
    ExamRecord,
    Reason,
    Row,
    Side,
    Status,
    Unheard,
    Unplaced,
)

__all__ = [
    "Alternative",
    "Basis",
    "Evidence",
    "ExamRecord",
    "Reason",
    "Row",
    "Side",
    "Status",
    "Unheard",
    "Unplaced",
]
