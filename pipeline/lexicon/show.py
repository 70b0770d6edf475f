"""What a person reads of the lexicon: one entry in plain text, and the problems of a folder."""

from __future__ import annotations

from pathlib import Path

from rapidfuzz import process

from pipeline.lexicon.load import LexiconError, load
from pipeline.lexicon.model import Lexicon, Manoeuvre, Muscle, Nerve, RootSupply, Scale, Site
from pipeline.lexicon.pronounce import PHONEMES, phrase_phones

_Named = Manoeuvre | Muscle | Nerve | Scale | Site


def describe(lexicon: Lexicon, name: str) -> str:
    """The entry called `name` (its id or any of its names, in any case) as plain text: names, values, roots, sources.

    Raises `LexiconError` with the nearest names where nothing is called so.
    """
    wanted = _plain(name)
    found = [entry for entry in _entries(lexicon) if wanted in _calls(entry)]
    if not found:
        calls = sorted({call for entry in _entries(lexicon) for call in _calls(entry)})
        near = ", ".join(match[0] for match in process.extract(wanted, calls, limit=3))
        raise LexiconError(f"'{name}' is not in the lexicon; did you mean: {near}?")
    return "\n\n".join(_text(lexicon, entry) for entry in found)


def check(folder: Path | None = None) -> list[str]:
    """The problems of a lexicon folder, one line each; empty when all is well."""
    try:
        lexicon = load(folder)
    except LexiconError as error:
        return [str(error)]
    problems = [*_shared_names(lexicon), *_bad_phonemes(lexicon)]
    values = {scale.id: [value.value for value in scale.values] for scale in lexicon.scales}
    problems += [
        f"scales '{scale}': value '{value}' is listed twice; remove one"
        for scale, listed in values.items()
        for value in sorted({value for value in listed if listed.count(value) > 1})
    ]
    return problems


def _shared_names(lexicon: Lexicon) -> list[str]:
    """Names with two owners in one region; in two regions the limb under examination tells which is meant."""
    region = {manoeuvre.id: manoeuvre.region for manoeuvre in lexicon.manoeuvres}
    region |= {muscle.id: region[muscle.manoeuvre] for muscle in lexicon.muscles}
    owners: dict[str, list[str]] = {}
    entries: list[Manoeuvre | Muscle] = [*lexicon.manoeuvres, *lexicon.muscles]
    for entry in entries:
        for name in entry.names:
            owners.setdefault(_plain(name), []).append(entry.id)
    return [
        f"'{name}' names {' and '.join(ids)}; keep it in one, or move it to section_names"
        for name, ids in owners.items()
        if len({region[one] for one in ids}) < len(ids)
    ]


def _bad_phonemes(lexicon: Lexicon) -> list[str]:
    return [
        f"pronunciations '{entry.word}': unknown phoneme '{phoneme}'; use ARPAbet without stress digits"
        for entry in lexicon.pronunciations
        for way in entry.say
        for phoneme in way.split()
        if phoneme not in PHONEMES
    ]


def _entries(lexicon: Lexicon) -> list[_Named]:
    return [*lexicon.manoeuvres, *lexicon.muscles, *lexicon.nerves, *lexicon.scales, *lexicon.sites]


def _calls(entry: _Named) -> set[str]:
    if isinstance(entry, Scale):
        return {_plain(entry.id), _plain(entry.title)}
    return {_plain(entry.id), *(_plain(name) for name in entry.names)}


def _plain(name: str) -> str:
    return " ".join(name.replace("_", " ").replace("-", " ").lower().split())


def _text(lexicon: Lexicon, entry: _Named) -> str:
    lines = [f"{entry.id} ({type(entry).__name__.lower()})"]
    if isinstance(entry, Scale):
        lines += [f"  {value.value}: {', '.join(value.say) or '(a number)'}" for value in entry.values]
        return "\n".join([f"{lines[0]}: {entry.title}", *lines[1:], f"  source: {entry.source}"])
    lines.append(f"  names: {', '.join(entry.names)}")
    if isinstance(entry, Manoeuvre):
        if entry.section_names:
            lines.append(f"  in its section also: {', '.join(entry.section_names)}")
        if entry.findings:
            lines.append(f"  say by themselves that something is wrong: {', '.join(entry.findings)}")
        scale = next(scale for scale in lexicon.scales if scale.id == entry.scale)
        lines.append(f"  values: {', '.join(value.value for value in scale.values)} ({scale.title})")
        lines += [f"  asked as: {' + '.join('/'.join(choice) for choice in command.all)}" for command in entry.commands]
        muscles = [muscle.id for muscle in lexicon.muscles if muscle.manoeuvre == entry.id]
        if muscles:
            lines.append(f"  muscles: {', '.join(muscles)}")
        lines.append(f"  method: {entry.method}")
    if isinstance(entry, Muscle):
        lines += [f"  manoeuvre: {entry.manoeuvre}", f"  nerve: {entry.nerve}"]
    if isinstance(entry, Manoeuvre | Muscle):
        lines += [_root(root) for root in entry.roots]
    said = phrase_phones(entry.names[0].split())
    if said:
        lines.append(f"  said: {' | '.join(' '.join(way) for way in said)}")
    return "\n".join([*lines, f"  source: {entry.source}"])


def _root(root: RootSupply) -> str:
    return f"  root {root.root}{' (main)' if root.main else ''}: {root.source}"
