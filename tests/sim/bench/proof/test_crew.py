"""A stranger's controller is proved in processes of its own: what it breaks, raises or never answers is a finding."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.bench import foreign
from sim.bench.proof import crew
from sim.bench.proof.entry import NO_ANSWER
from sim.bench.proof.order import Order
from sim.bench.proof.report import prove
from sim.errors import DataError
from sim.site import load_site

SITE = load_site(Path(__file__).resolve().parents[4] / "scenarios" / "sites" / "reference_bench.yaml")

STILL = "def scan(self, now, inputs): return Scan(Outputs())"
RAISES = "def scan(self, now, inputs): raise ValueError('not written yet')"
HANGS = "def scan(self, now, inputs):\n        while True: pass"
HEEDS_ANY_WORD = (
    "until = 0\n\n"
    "    def scan(self, now, inputs):\n"
    "        if inputs.radio: self.until = now + 3_000_000\n"
    "        return Scan(Outputs(active=Drive(duty=0.5 if now < self.until else 0.0), lock=True))"
)
DEAF = (
    "def scan(self, now, inputs):\n"
    "        pressed = inputs.command_v[0] < 12.0\n"
    "        drive = Drive(duty=0.5) if pressed else Drive()\n"
    "        return Scan(Outputs(active=drive))"
)


def order(folder: Path, scan: str, **changes: object) -> Order:
    file = folder / "mine.py"
    file.write_text(
        f"from sim.controller.ports import Drive, Outputs, Scan\n\n\nclass Mine:\n    {scan}\n", encoding="utf-8"
    )
    given = {"examples": 10, "seconds": 3600.0, "properties": ("stop beats everything",), **changes}
    return Order(SITE, foreign.source(f"{file}:Mine"), **given)  # type: ignore[arg-type]


def test_a_controller_that_does_nothing_breaks_nothing(tmp_path: Path) -> None:
    report = prove(order(tmp_path, STILL, examples=3))
    assert report.holds
    assert report.examples == 3
    assert report.controller == "Mine"


@pytest.mark.slow
def test_a_controller_deaf_to_the_stop_is_found_out(tmp_path: Path, unshrunk: None) -> None:
    report = prove(order(tmp_path, DEAF, examples=60))
    assert [each.property for each in report.counterexamples] == ["stop beats everything"]
    sentences = [sentence for _, sentence in report.counterexamples[0].told]
    assert "Somebody presses the stop button, which stays in." in sentences


def test_a_controller_without_a_sheet_is_found_to_heed_a_word_of_nobody(tmp_path: Path, unshrunk: None) -> None:
    """It shows no settings, so nothing is known of an auto-close that might be due."""
    promise = "a transmitter that was deleted moves nothing"
    report = prove(order(tmp_path, HEEDS_ANY_WORD, properties=(promise,)))
    assert [each.property for each in report.counterexamples] == [promise]


def test_an_error_in_it_is_a_finding_with_its_line(tmp_path: Path) -> None:
    report = prove(order(tmp_path, RAISES, properties=(NO_ANSWER,)))
    assert report.counterexamples[0].property == NO_ANSWER
    assert "ValueError: not written yet (mine.py, line 5)" in report.counterexamples[0].said


def test_one_that_never_answers_is_ended(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(crew, "SILENCE_S", 3.0)
    report = prove(order(tmp_path, HANGS, properties=(NO_ANSWER,)))
    assert report.counterexamples[0].property == NO_ANSWER
    assert "no answer" in report.counterexamples[0].said


def test_an_unknown_property_is_refused_with_the_nearest(tmp_path: Path) -> None:
    with pytest.raises(DataError, match="did you mean 'stop beats everything'"):
        prove(order(tmp_path, STILL, properties=("stop beats everythin",)))
