"""The checked cards and the vocabulary → a new base, swapped in whole. The only importer of sqlite_utils."""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import UTC, datetime
from functools import lru_cache
from pathlib import Path
from typing import Any

from sqlite_utils import Database

from askplant import grammars, parsing, where
from askplant.base import claims, columns, deck, names, phrases, resolve, seal, values
from askplant.base.cards import Card, CardFaults
from askplant.base.deck import Deck
from askplant.base.opened import FORMAT, GRAMMARS, ORIGINS, PUBLICATIONS, RESOLVED
from askplant.base.resolve import Settled, Values
from askplant.base.traits import Dictionary

Progress = Callable[[str], None]
Record = dict[str, Any]

# More publications than these make a plant no better known.
MOST_TOLD = 12

# Folder of the vocabulary inside traits/.

_TABLES: dict[str, dict[str, type]] = {
    "meta": {"key": str, "value": str},
    "traits": {"name": str, "type": str, "unit": str, "allowed": str, "one": int, "means": str, "source": str},
    "conditions": {"name": str, "allowed": str, "scale": int, "unit": str, "reads": str},
    "plants": {
        "n": int,
        "id": str,
        "botanical": str,
        "genus": str,
        "epithet": str,
        "parent": int,
        "family": str,
        "common": str,
        "heard": str,
        "synonyms": str,
    },
    "vals": {
        "plant": int,
        "trait": str,
        "low": float,
        "high": float,
        "value": str,
        "unit": str,
        "source": str,
        "basis": str,
        "note": str,
    },
    "judged": {"condition": str, "stored": bytes},
    "names": {"first": str, "words": str, "kind": str, "shown": str, "plants": str},
    "phrases": {"first": str, "second": str, "tree": str},
    "entries": {"n": int, "entry": str},
    "pairs": {"word": str, "before": str},
    "postcodes": {"code": str, "zone": str},
    "grammars": {"name": str, "tables": str},
    "claims": {"word": str, "claim": str, "kind": str, "source": str},
    "sources": {"key": str, "title": str, "publisher": str, "year": str, "url": str, "basis": str},
    "observations": {
        "plant": int,
        "age": float,
        "height": float,
        "width": float,
        "place": str,
        "pruned": str,
        "source": str,
        "note": str,
        "date": str,
        "basis": str,
    },
}
_KEYS = {
    "meta": "key",
    "traits": "name",
    "conditions": "name",
    "plants": "n",
    "judged": "condition",
    "sources": "key",
    "phrases": ("first", "second"),
    "entries": "n",
    "grammars": "name",
    "pairs": "word",
    "postcodes": "code",
}
_INDEXES = (
    ("vals", "plant"),
    ("names", "first"),
    ("observations", "plant"),
)
# Looked up word by word, and nothing but the word is stored: a table that is its own index is half the size.
_WORD_TABLES = (
    "CREATE TABLE words (word TEXT PRIMARY KEY, kind TEXT NOT NULL) STRICT, WITHOUT ROWID",
    "CREATE TABLE ordinary (word TEXT PRIMARY KEY) STRICT, WITHOUT ROWID",
)
_INSERTS = {
    table: f"INSERT INTO {table} ({', '.join(columns)}) VALUES ({', '.join(f':{column}' for column in columns)})"
    for table, columns in (*_TABLES.items(), ("words", ("word", "kind")), ("ordinary", ("word",)))
}


def build(target: Path, traits: Path, digest: str, progress: Progress | None = None, own: Path | None = None) -> None:
    """Write the base of a traits folder under the user's own to `target`, replacing what stands there in one step.

    CardFaults names everything that is wrong with the folders; nothing is written then. `progress` gets a line before
    each step.
    """
    tell = progress or (lambda _: None)
    tell(f"reading {traits}")
    read = deck.read(traits, own)
    if read.faults:
        raise CardFaults(read.faults)
    new = target.with_name(f".{target.name}.{os.getpid()}.new")
    try:
        _write(new, read, traits, digest, tell)
        seal.put(new)
        os.replace(new, target)
    finally:
        new.unlink(missing_ok=True)


def _write(path: Path, read: Deck, traits: Path, digest: str, tell: Progress) -> None:
    path.unlink(missing_ok=True)
    db = Database(path, strict=True, execute_plugins=False)
    try:
        # The file is thrown away if anything goes wrong, so it needs no journal and no waiting for the disk.
        db.execute("PRAGMA journal_mode = OFF")
        db.execute("PRAGMA synchronous = OFF")
        with db.atomic():
            _make_tables(db)
            tell(f"writing {len(read.cards)} plants")
            _write_meta(db, read, digest)
            _write_plants(db, read)
            tell("writing the vocabulary")
            _write_words(db, read.cards, traits / phrases.FOLDER)
            _insert(db, "grammars", _grammar_records())
            _insert(db, "postcodes", ({"code": code, "zone": zone} for code, zone in read.postcodes.items()))
            _insert(db, "claims", (claim._asdict() for claim in claims.rows(traits)))
            for table, column in _INDEXES:
                db.table(table).create_index([column])
        db.vacuum()
    finally:
        db.close()


def _make_tables(db: Database) -> None:
    for name, types in _TABLES.items():
        nullable = {"epithet", "parent", "family", "low", "high", "height", "width"}
        db.table(name).create(types, pk=_KEYS.get(name), not_null=set(types) - nullable)
    db.table("plants").create_index(["id"], unique=True)
    for statement in _WORD_TABLES:
        db.execute(statement)


def _write_meta(db: Database, read: Deck, digest: str) -> None:
    built = datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
    meta = {"digest": digest, "built": built, "format": FORMAT, "count": str(len(read.cards))}
    _insert(db, "meta", ({"key": key, "value": value} for key, value in meta.items()))
    _insert(db, "traits", _trait_records(read.dictionary))
    _insert(db, "conditions", _condition_records(read.dictionary))
    _insert(db, "sources", (source._asdict() for source in read.sources.values()))


def _write_plants(db: Database, read: Deck) -> None:
    settled = resolve.settle(read.cards, read.dictionary)
    numbers = {card.id: n for n, card in enumerate(read.cards)}
    _insert(db, "plants", (_plant_record(card, numbers, settled[card.id]) for card in read.cards))
    _insert(db, "vals", _value_records(read.dictionary, list(settled.values())))
    _insert(db, "judged", _judged_records(read.dictionary, list(settled.values())))
    _insert(db, "judged", [_publication_record(read.cards, settled), _origin_record(read.cards, settled)])
    _insert(db, "observations", ({**seen._asdict(), "plant": numbers[seen.plant]} for seen in read.observations))


def _write_words(db: Database, cards: Sequence[Card], vocabulary: Path) -> None:
    spoken = list(names.spoken(cards, phrases.groups(vocabulary)))
    compiled = list(phrases.compiled(vocabulary))
    trees, entries = phrases.trees(compiled)
    _insert(db, "names", map(_name_record, spoken))
    _insert(
        db,
        "phrases",
        (
            {"first": first, "second": second, "tree": _json(tree)}
            for first, following in trees.items()
            for second, tree in following.items()
        ),
    )
    _insert(db, "entries", ({"n": n, "entry": _json(entry)} for n, entry in enumerate(entries)))
    _insert(
        db,
        "pairs",
        ({"word": word, "before": " ".join(sorted(before))} for word, before in phrases.pairs(compiled).items()),
    )
    known = _known_words(spoken, compiled, phrases.spellings(vocabulary))
    _insert(db, "words", ({"word": word, "kind": kind} for word, kind in known.items()))
    _insert(db, "ordinary", ({"word": word} for word in dict.fromkeys(phrases.ordinary_words(vocabulary))))


def _known_words(
    spoken: Iterable[names.Name], said: Iterable[tuple[phrases.Pattern, phrases.Entry]], spellings: Iterable[str]
) -> dict[str, str]:
    """Each word understood as it stands, with the first of: phrase, the kind of name it is part of, cue, spelling."""
    telling, other = phrases.words_told(said)
    known = dict.fromkeys(telling, "phrase")
    # A misspelling comes last: a word that is also part of a right name, or another spelling of a word, is not one.
    wrong = {word: name.kind for name in spoken if name.kind == "misspelt" for word in name.words}
    for name in spoken:
        for word in name.words if name.kind != "misspelt" else ():
            known.setdefault(word, name.kind)
    return wrong | dict.fromkeys(spellings, "spelling") | dict.fromkeys(other, "cue") | known


def _grammar_records() -> Iterator[Record]:
    """The grammars as tables, so that no request waits for one to be built."""
    for name, starts in GRAMMARS.items():
        path = where.folder("grammar") / f"{name}.lark"
        yield {"name": name, "tables": _tables(path, starts, path.stat().st_mtime_ns)}


@lru_cache(maxsize=len(GRAMMARS))
def _tables(path: Path, starts: tuple[str, ...], _: int) -> str:
    """The tables of a grammar as it stands at a time; a second build of one process need not make them again."""
    return parsing.packed(grammars.built(path, starts))


def _insert(db: Database, table: str, records: Iterable[Record]) -> None:
    """Records of one form; the connection itself takes them four times as fast as a library that looks at each value."""
    sql = _INSERTS[table]
    db.conn.executemany(sql, records)


def _trait_records(dictionary: Dictionary) -> Iterator[Record]:
    for trait in dictionary.traits.values():
        yield {
            "name": trait.name,
            "type": trait.type,
            "unit": trait.unit,
            "allowed": _json(trait.values),
            "one": int(trait.is_single),
            "means": trait.means,
            "source": trait.source,
        }


def _condition_records(dictionary: Dictionary) -> Iterator[Record]:
    for asked in dictionary.conditions.values():
        yield {
            "name": asked.name,
            "allowed": _json(asked.values),
            "scale": int(asked.scale),
            "unit": asked.unit,
            "reads": _json(asked.reads),
        }


def _plant_record(card: Card, numbers: dict[str, int], settled: Values) -> Record:
    return {
        "n": numbers[card.id],
        "id": card.id,
        "botanical": card.botanical,
        "genus": card.genus,
        "epithet": card.epithet,
        "parent": numbers[card.parent_id] if card.parent_id else None,
        "family": settled["family"].meaning.text if "family" in settled else None,
        "common": _json(card.common),
        "heard": _json(card.heard),
        "synonyms": _json(card.synonym),
    }


def _value_records(dictionary: Dictionary, plants: Sequence[Values]) -> Iterator[Record]:
    """Each statement of each plant, and after those that disagree the value they come to."""
    for n, settled in enumerate(plants):
        for name, trait in settled.items():
            unit = dictionary.traits[name].unit
            for source, basis, note, meaning in _told(trait):
                yield {
                    "plant": n,
                    "trait": name,
                    "low": meaning.low,
                    "high": meaning.high,
                    # A zone, a month and a word alike are printed as text.
                    "value": meaning.text,
                    "unit": unit,
                    "source": source,
                    "basis": basis,
                    "note": note,
                }


def _told(trait: Settled) -> Iterator[tuple[str, str, str, values.Meaning]]:
    for entry, meaning in trait.statements:
        yield entry.source, entry.basis, entry.note, meaning
    if trait.why:
        yield RESOLVED, trait.basis, trait.why, trait.meaning


def _judged_records(dictionary: Dictionary, plants: Sequence[Values]) -> Iterator[Record]:
    """For each condition what its judge reads of every plant."""
    parts = _json_parts(dictionary, plants)
    done: dict[tuple[str, ...], bytes] = {}
    for asked in dictionary.conditions.values():
        if not asked.reads:
            continue
        if asked.reads not in done:
            done[asked.reads] = columns.stored([parts[trait] for trait in asked.reads])
        yield {"condition": asked.name, "stored": done[asked.reads]}


def _publication_record(cards: Sequence[Card], settled: dict[str, Values]) -> Record:
    """How many publications speak of each plant: its own card's, and half of those it inherits from; up to MOST_TOLD."""
    counts = [str(min(MOST_TOLD, _publications(card, settled[card.id]))) for card in cards]
    return {"condition": PUBLICATIONS, "stored": columns.stored([counts])}


def _origin_record(cards: Sequence[Card], settled: dict[str, Values]) -> Record:
    """What growth curves need of each plant beside its resolved sizes; `opened.ORIGINS` tells the form."""
    sizes = [
        [_json(_disagreeing(settled[card.id].get(f"{side}_grown"))) for card in cards] for side in ("height", "width")
    ]
    parents = [_json(_origin(card, settled) if card.parent_id else None) for card in cards]
    return {"condition": ORIGINS, "stored": columns.stored([*sizes, parents])}


def _disagreeing(trait: Settled | None) -> list[list[float | None]] | None:
    """Each source's range where they do not agree."""
    if trait is None or not trait.why:
        return None
    return [[meaning.low, meaning.high] for _, meaning in trait.statements]


def _origin(card: Card, settled: dict[str, Values]) -> list[Any]:
    own, parent = settled[card.id], settled[card.parent_id or ""]
    sizes = [parent[f"{side}_grown"].meaning if f"{side}_grown" in parent else None for side in ("height", "width")]
    states = any(entry.trait in ("growth", "growth_per_year") for entry in card.entries)
    variegated = _is_variegated(own) and not _is_variegated(parent)
    return [*([size.low, size.high] if size else None for size in sizes), states, variegated]


def _is_variegated(plant: Values) -> bool:
    return "leaf_colour" in plant and "variegated" in plant["leaf_colour"].meaning.words


def _publications(card: Card, known: Values) -> int:
    own = {entry.source for entry in card.entries if entry.source}
    every = {one.entry.source for trait in known.values() for one in trait.statements if one.entry.source}
    return len(own) + len(every - own) // 2


def _json_parts(dictionary: Dictionary, plants: Sequence[Values]) -> dict[str, list[str]]:
    """For each trait the JSON of its resolved value, plant by plant; `null` where it is not known."""
    written: dict[tuple[str, values.Meaning], str] = {}
    parts: dict[str, list[str]] = {}
    for name, trait in dictionary.traits.items():
        column = []
        for settled in plants:
            if name not in settled:
                column.append("null")
                continue
            key = (name, settled[name].meaning)
            if key not in written:
                written[key] = _json(values.judged(trait, settled[name].meaning))
            column.append(written[key])
        parts[name] = column
    return parts


def _name_record(name: names.Name) -> Record:
    return {
        "first": name.words[0],
        "words": " ".join(name.words),
        "kind": name.kind,
        "shown": name.shown,
        "plants": _json(name.plants),
    }


def _json(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))
