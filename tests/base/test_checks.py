"""The check of a traits folder: faults are errors, doubts are warnings with the line that raises them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from askplant.base.checks import Finding, check

Write = Callable[[str, str | bytes], Path]

# A card that raises no doubt; tests change one thing about it.
SOUND = """Ilex opaca
    kind: tree
    form: pyramidal
    persistence: evergreen
    height_label: 15-20 ft
    height_grown: 20-30 ft [demo-opened]
    height_old: 50 ft [demo-recalled]
    width_label: 8-10 ft
    width_grown: 10-15 ft
    width_old: 30 ft
    zone: 5a-9b
    zone_shelter: 4b
    light: full sun, part sun
    bloom: May
"""


@pytest.fixture
def alone(folder: Path, write: Write) -> Path:
    """The folder without its other plants."""
    for name in ("ilex.txt", "thuja.txt"):
        (folder / "plants" / name).unlink()
    (folder / "observations.csv").unlink()
    return folder


def warnings(folder: Path) -> list[Finding]:
    findings = check(folder)
    assert [finding for finding in findings if finding.severity == "error"] == []
    return findings


def test_a_sound_card_raises_no_doubt(alone: Path, write: Write) -> None:
    """Nothing is said of what is in order."""
    write("plants/ilex.txt", SOUND)
    assert check(alone) == []


@pytest.mark.parametrize(
    "old, new, line, what, found",
    [
        ("_label: 15-20 ft", "_label: 55-60 ft", 5, "sizes", "height_label 55–60 ft above height_old 50 ft"),
        ("_grown: 20-30 ft", "_grown: 20-60 ft", 6, "sizes", "height_grown 20–60 ft above height_old 50 ft"),
        ("width_grown: 10-15 ft", "width_grown: 10-35 ft", 9, "sizes", "width_grown 10–35 ft above width_old 30 ft"),
        ("width_label: 8-10 ft", "width_label: 40 ft", 8, "sizes", "width_label 40 ft above width_old 30 ft"),
        ("form: pyramidal", "form: columnar", 3, "form", "form columnar, width_grown 10–15 ft, height_grown 20–30 ft"),
        ("zone: 5a-9b", "zone_cold: 9b\n    zone_warm: 5a", 11, "zones", "zone_cold 9b, zone_warm 5a"),
        ("zone_shelter: 4b", "zone_shelter: 6a", 12, "zones", "zone_shelter 6a, zone_cold 5a"),
        ("bloom: May", "bloom: January-March", 14, "bloom", "bloom in January–February, zone_cold 5a"),
        ("    light: full sun, part sun\n", "", 1, "missing", "Ilex opaca without light"),
        ("    kind: tree\n", "", 1, "missing", "Ilex opaca without kind"),
        (" [demo-recalled]", "", 5, "sources", "1 source for the heights of Ilex opaca"),
        (" [demo-recalled]", " [demo-opened]", 5, "sources", "1 source for the heights of Ilex opaca"),
        ("bloom: May", "bloom: May\n    bloom: June", 15, "sources", "two values of bloom without a source"),
        ("bloom: May", "salt: moderate [demo-opened]\n    salt: tolerant [demo-opened]", 15, "sources",
         "two values of salt from [demo-opened]"),
        ("Ilex opaca\n", "Ilex\n", 1, "name", "the genus Ilex alone"),
    ],
)  # fmt: skip
def test_each_doubt_is_raised_at_its_line(
    old: str, new: str, line: int, what: str, found: str, alone: Path, write: Write
) -> None:
    """One change, one warning, at the line that states the doubtful value."""
    write("plants/ilex.txt", SOUND.replace(old, new))
    told = [finding for finding in warnings(alone) if finding.what == what]
    assert [(finding.file, finding.line, finding.found) for finding in told if finding.found == found] == [
        ("traits/plants/ilex.txt", line, found)
    ]


@pytest.mark.parametrize(
    "change",
    [
        ("bloom: May", "bloom: January-March -- witch-hazel season"),
        ("bloom: May", "bloom: January-March\n    winter_interest: flowers on bare wood"),
        ("zone: 5a-9b\n    zone_shelter: 4b\n", "zone: 7a-9b\n    zone_shelter: 6b\n"),
    ],
)
def test_winter_bloom_with_a_reason_is_not_doubted(change: tuple[str, str], alone: Path, write: Write) -> None:
    """A note, a winter_interest, or a mild range explains it."""
    text = SOUND if change[0] in SOUND else SOUND.replace("zone: 5a-9b\n    zone_shelter: 4b\n", change[1])
    text = text.replace(*change)
    write("plants/ilex.txt", text.replace("bloom: May", "bloom: January-March"))
    assert warnings(alone) == []


def test_doubts_about_inherited_values_are_told_once(alone: Path, write: Write) -> None:
    """A cultivar that states other sizes does not repeat the doubts about its species' card."""
    cultivar = "Ilex opaca 'Demo'\n    height_grown: 15-20 ft [demo-opened]\n    width_grown: 8-10 ft\n"
    write("plants/ilex.txt", SOUND.replace("zone_shelter: 4b", "zone_shelter: 6a") + cultivar)
    assert [(finding.what, finding.line) for finding in warnings(alone)] == [("zones", 12)]


def test_a_cultivar_needs_a_parent_and_sizes_of_its_own(alone: Path, write: Write) -> None:
    """Without a species card it must say what it inherits from; sizes are not to be borrowed."""
    write(
        "plants/ilex.txt",
        SOUND + "Ilex opaca 'Demo'\n    form: rounded\nIlex verticillata 'Other'\n    like: Ilex opaca\n"
        "Ilex 'Third'\n    kind: tree\n",
    )
    told = {(finding.what, finding.found) for finding in warnings(alone)}
    assert ("sizes", "Ilex opaca 'Demo' with its parent's height_grown and width_grown") in told
    assert ("parent", "Ilex 'Third' without a species card") in told
    assert not any("Other" in found and what == "parent" for what, found in told)


def test_annuals_need_no_zone(alone: Path, write: Write) -> None:
    """They do not see a winter."""
    write("plants/ilex.txt", SOUND.replace("kind: tree", "kind: annual").replace("    zone: 5a-9b\n", ""))
    assert [finding.what for finding in warnings(alone)] == []


def test_a_file_is_named_after_its_genus(alone: Path, write: Write) -> None:
    """One warning a file, at the first card that does not belong there."""
    write("plants/thuja.txt", SOUND + SOUND.replace("opaca", "cornuta"))
    told = [(finding.line, finding.found, finding.expected) for finding in warnings(alone) if finding.what == "file"]
    assert told == [(1, "Ilex in thuja.txt", "one file a genus, here ilex.txt")]


def test_names_of_two_plants_are_doubted(alone: Path, write: Write) -> None:
    """A synonym or selling name of two plants, or one under which another plant has a card."""
    second = SOUND.replace("Ilex opaca\n", "Ilex cornuta\n    heard: Demo Name\n    synonym: Ilex opaca\n")
    write("plants/ilex.txt", SOUND.replace("Ilex opaca\n", "Ilex opaca\n    heard: demo name\n") + second)
    found = [finding.found for finding in warnings(alone) if finding.what == "names"]
    assert found == [
        "synonym `Ilex opaca` of Ilex cornuta, which Ilex opaca (traits/plants/ilex.txt:1) bears too",
        "heard `demo name` of Ilex opaca, which Ilex cornuta (traits/plants/ilex.txt:16) bears too",
    ] or found == [
        "heard `demo name` of Ilex opaca, which Ilex cornuta (traits/plants/ilex.txt:16) bears too",
        "synonym `Ilex opaca` of Ilex cornuta, which Ilex opaca (traits/plants/ilex.txt:1) bears too",
    ]


@pytest.mark.parametrize(
    "other, near",
    [
        ("Ilex opaka", True),
        ("Ilex opacca", True),
        ("Ilex opac", True),
        ("Ilex oapca", True),
        ("Ilex cornuta", False),
        ("Ilex opaca 'Demo'", False),
    ],
)
def test_names_very_like_another_are_doubted(other: str, near: bool, alone: Path, write: Write) -> None:
    """One letter wrong, doubled, missing or swapped."""
    write("plants/ilex.txt", SOUND + SOUND.replace("Ilex opaca", other))
    assert any(finding.what == "names" for finding in warnings(alone)) is near


def test_one_fancy_name_under_two_species_is_doubted(alone: Path, write: Write) -> None:
    """Latin words of one kind are given to many; an invented name of two words is not."""
    for epithet, doubted in (("Demo Pencil", True), ("Compacta", False)):
        cards = [SOUND.replace("Ilex opaca", f"Ilex {species} '{epithet}'") for species in ("crenata", "cornuta")]
        write("plants/ilex.txt", "".join(cards))
        assert any(finding.what == "names" for finding in warnings(alone)) is doubted


def test_faults_are_errors_beside_the_doubts(folder: Path, write: Write) -> None:
    """All that would stop a build, the vocabulary's too, in order of file and line."""
    write("plants/ilex.txt", SOUND.replace("kind: tree", "kind: bush"))
    write("vocabulary/more.txt", "    a phrase before any meaning\n")
    findings = check(folder)
    errors = [finding for finding in findings if finding.severity == "error"]
    assert [(finding.file, finding.line) for finding in errors] == [
        ("traits/plants/ilex.txt", 2),
        ("traits/vocabulary/more.txt", 1),
    ]
    assert findings == sorted(findings, key=lambda finding: (finding.file, finding.line, finding.severity))
    assert str(errors[0]).startswith("traits/plants/ilex.txt:2: error: found kind `bush`; expected any of tree, shrub")


def test_a_broken_dictionary_is_the_only_finding(folder: Path, write: Write) -> None:
    """Without it nothing else can be judged."""
    write("traits.toml", "[kind]\ntype = 'wrods'\n")
    (finding,) = check(folder)
    assert (finding.severity, finding.file, finding.line) == ("error", "traits/traits.toml", 1)
