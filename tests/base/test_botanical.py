"""Botanical names and the ids they give."""

from __future__ import annotations

import pytest

from askplant.base import botanical


@pytest.mark.parametrize(
    "written, text, plant",
    [
        ("Ilex glabra", "Ilex glabra", "ilex-glabra"),
        ("Ilex x meserveae 'Blue Prince'", "Ilex × meserveae 'Blue Prince'", "ilex-meserveae-blue-prince"),
        ("Ilex ×meserveae ‘Blue Prince’", "Ilex × meserveae 'Blue Prince'", "ilex-meserveae-blue-prince"),
        ("Thuja 'Green Giant'", "Thuja 'Green Giant'", "thuja-green-giant"),
        ("×Hesperotropsis leylandii", "× Hesperotropsis leylandii", "hesperotropsis-leylandii"),
        ("Buxus microphylla var. japonica", "Buxus microphylla var. japonica", "buxus-microphylla-var-japonica"),
        ("Salvia nemorosa ssp. tesquicola", "Salvia nemorosa subsp. tesquicola", "salvia-nemorosa-subsp-tesquicola"),
        ("Taxus x media 'Hicks' Column'", "Taxus × media 'Hicks' Column'", "taxus-media-hicks-column"),
        ("Rosa 'Météor'", "Rosa 'Météor'", "rosa-meteor"),
        (
            "Acer palmatum Dissectum Group 'Demo'",
            "Acer palmatum Dissectum Group 'Demo'",
            "acer-palmatum-dissectum-group-demo",
        ),
        (
            "Rhododendron Southern Indian Group",
            "Rhododendron Southern Indian Group",
            "rhododendron-southern-indian-group",
        ),
        ("Acer palmatum (Dissectum Group)", "Acer palmatum Dissectum Group", "acer-palmatum-dissectum-group"),
        ("x Demo Pale Group 'One'", "× Demo Pale Group 'One'", "demo-pale-group-one"),
        ("Acer rubrum × saccharinum", "Acer rubrum × saccharinum", "acer-rubrum-saccharinum"),
        ("Vaccinium vitis-idaea", "Vaccinium vitis-idaea", "vaccinium-vitis-idaea"),
        ("  Ilex   glabra ", "Ilex glabra", "ilex-glabra"),
    ],
)
def test_names_have_one_form_and_one_id(written: str, text: str, plant: str) -> None:
    """However a name is typed, it is shown in one way and gives one id."""
    assert botanical.parse(written).text == text
    assert botanical.identify(written) == plant


@pytest.mark.parametrize(
    "written",
    [
        "",
        "ilex glabra",
        "Ilex Glabra",
        "Ilex glabra 'Densa",
        "Ilex glabra var.",
        "Ilex 3",
        "Ilex glabra ''",
        "'Densa'",
        "Ilex × × glabra",
    ],
)
def test_what_is_no_botanical_name_is_refused(written: str) -> None:
    """The refusal says how a name is written."""
    with pytest.raises(ValueError, match="a botanical name"):
        botanical.parse(written)


def test_wider_taxa_are_nearest_first() -> None:
    """A cultivar of a variety belongs to the variety and to the species, never to the genus alone."""
    assert botanical.parse("Acer palmatum var. dissectum 'Demo'").wider == (
        "Acer palmatum var. dissectum",
        "Acer palmatum",
    )
    assert botanical.parse("Ilex x meserveae 'Blue Prince'").wider == ("Ilex × meserveae",)
    assert botanical.parse("Thuja 'Green Giant'").wider == ()
    assert botanical.parse("Ilex glabra").wider == ()
