"""The same batch on a Dask cluster: tried where the optional part is installed."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from askplant import cli, statuses
from tests.batch.demo import HEADINGS, requests


def test_without_the_optional_part(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What to install is said in one line."""
    import sys

    monkeypatch.setitem(sys.modules, "distributed", None)
    (tmp_path / "in.csv").write_text("request\nfern\n")
    status = cli.main(["batch", str(tmp_path / "in.csv"), str(tmp_path / "out.csv"), "--cluster", "tcp://127.0.0.1:1"])
    assert status == statuses.WRONG_USE
    assert "--cluster needs the optional part: pip install 'askplant[cluster]'" in capsys.readouterr().err
    assert [path.name for path in tmp_path.iterdir()] == ["in.csv"]


@pytest.mark.filterwarnings("ignore")
def test_two_workers_write_what_one_process_does(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Byte for byte, with a stock list; an address where nobody answers is one line."""
    distributed = pytest.importorskip("distributed")
    with (tmp_path / "in.csv").open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream).writerows([HEADINGS, *requests(40)])
    (tmp_path / "list.csv").write_text("plant,size,price,qty\ninkberry,#3,24.50,12\n")
    options = ["--stock", str(tmp_path / "list.csv"), "--details"]
    assert cli.main(["batch", str(tmp_path / "in.csv"), str(tmp_path / "one.csv"), *options, "--workers", "1"]) == 0
    with distributed.LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster:
        address = cluster.scheduler_address
        for _ in range(2):  # a second run finds the workers as the first has left them
            arguments = [str(tmp_path / "in.csv"), str(tmp_path / "two.csv"), *options, "--cluster", address]
            assert cli.main(["batch", *arguments]) == statuses.FITS, capsys.readouterr().err
    for name in ("csv", "matches.csv", "excluded.csv", "totals.csv"):
        assert (tmp_path / f"one.{name}").read_bytes() == (tmp_path / f"two.{name}").read_bytes()
