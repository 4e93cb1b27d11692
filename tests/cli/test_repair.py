"""`wiregen repair`: what it offers was tried, and what it makes in the file `check` agrees with."""

from __future__ import annotations

import errno
import json
import os
import shutil
from pathlib import Path

import pytest
from command_line import run

EXAMPLES = Path(__file__).parents[2] / "examples"
BRINE = EXAMPLES / "brine_pump.yaml"


@pytest.fixture
def wrong(tmp_path: Path) -> Path:
    """Start and stop fixed at one terminal, a relay too few, and inputs wired the wrong way."""
    file = tmp_path / "wrong.yaml"
    file.write_bytes((EXAMPLES / "wrong_on_purpose.yaml").read_bytes())
    return file


def conflicts(capsys: pytest.CaptureFixture[str], file: Path) -> list[str]:
    return [c["says"] for c in json.loads(run(capsys, "check", file, "--format", "json")[1])["conflicts"]]


def errors(capsys: pytest.CaptureFixture[str], file: Path) -> set[tuple[str, str]]:
    found = json.loads(run(capsys, "check", file, "--format", "json")[1])["findings"]
    return {(f["code"], f["subject"]) for f in found if f["severity"] == "error"}


def offered(capsys: pytest.CaptureFixture[str], file: Path) -> list[dict[str, object]]:
    status, out, _ = run(capsys, "repair", file, "--format", "json")
    assert status in (0, 1)
    found: list[dict[str, object]] = json.loads(out)["repairs"]
    return found


def test_every_repair_ends_its_conflict_and_brings_no_error(wrong: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = wrong.read_bytes()
    before, known = conflicts(capsys, wrong), errors(capsys, wrong)
    repairs = offered(capsys, wrong)
    assert [r["number"] for r in repairs] == list(range(1, len(repairs) + 1))
    assert len({r["conflict"] for r in repairs}) == 2
    for repair in repairs:
        wrong.write_bytes(text)
        run(capsys, "repair", wrong, "--apply", repair["number"])
        assert repair["conflict"] in before
        assert repair["conflict"] not in conflicts(capsys, wrong)
        assert errors(capsys, wrong) <= known
        lines, after = text.decode().splitlines(), wrong.read_text(encoding="utf-8").splitlines()
        changes = repair["changes"]
        assert isinstance(changes, list)
        assert changes
        assert sum(line not in lines for line in after) <= len(changes)


def test_where_none_serves_that_is_said(wrong: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = run(capsys, "repair", wrong)
    assert status == 1
    assert "no repair was found among the changes that were tried" in out


def test_a_change_of_polarity_is_never_safe(wrong: Path, capsys: pytest.CaptureFixture[str]) -> None:
    of = {str(r["says"]): r["safe"] for r in offered(capsys, wrong)}
    assert of["-KE1 wired for source"] is False


def test_a_function_fixed_where_it_cannot_be_is_freed_safely(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "brine.yaml"
    text = BRINE.read_text(encoding="utf-8")
    file.write_text(text.replace("{DI1: start, DI2: stop}", "{DI1: [start, stop]}"), encoding="utf-8")
    assert len(conflicts(capsys, file)) == 1
    first = offered(capsys, file)[0]
    assert (first["cost"], first["safe"]) == (1, True)
    assert run(capsys, "repair", file, "--apply", 1)[0] == 0
    assert conflicts(capsys, file) == []


def test_a_dry_run_shows_and_changes_nothing(wrong: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = wrong.read_bytes()
    _, out, _ = run(capsys, "repair", wrong, "--apply", 1, "--dry-run")
    assert out.startswith("---")
    assert wrong.read_bytes() == text
    assert sorted(p.name for p in wrong.parent.iterdir()) == ["wrong.yaml"]


def test_backups_are_never_overwritten(wrong: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = wrong.read_bytes()
    run(capsys, "repair", wrong, "--apply", 1)
    second = wrong.read_bytes()
    run(capsys, "repair", wrong, "--apply", 1)
    assert wrong.with_name("wrong.yaml.bak").read_bytes() == text
    assert wrong.with_name("wrong.yaml.bak2").read_bytes() == second
    assert wrong.read_bytes() != second


@pytest.mark.parametrize("words", [("--apply", "99"), ("--apply", "0"), ("--dry-run",), ("--variant", "none such")])
def test_what_cannot_be_done_is_status_2(
    wrong: Path, words: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    text = wrong.read_bytes()
    assert run(capsys, "repair", wrong, *words)[0] == 2
    assert wrong.read_bytes() == text


def test_a_read_only_file_is_left_alone(
    wrong: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Somebody has locked it, though its folder would let it be replaced."""
    text = wrong.read_bytes()
    # The superuser may write everywhere, so what the system would tell others is put in.
    monkeypatch.setattr(os, "access", lambda path, mode: not (Path(path) == wrong.resolve() and mode & os.W_OK))
    status, _, told = run(capsys, "repair", wrong, "--apply", 1)
    assert status == 2
    assert "cannot be changed (it is read-only)" in told
    assert wrong.read_bytes() == text
    assert [p.name for p in wrong.parent.iterdir()] == [wrong.name]


def test_without_a_conflict_there_is_nothing_to_repair(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = run(capsys, "repair", BRINE)
    assert (status, out) == (0, "nothing to repair: everything has a terminal\n")


def test_what_nothing_selects_may_be_left_out_but_costs_most(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "orphan.yaml"
    text = BRINE.read_text(encoding="utf-8")
    level = "  -BL1: {profile: transmitter_two_wire, measures: 0 to 3 m, at: +F1}\n"
    select = "    select: {by: [-SJ3]"
    spare = "      spare: {from: -BL2, signal: 4-20 mA, spans: 15 to 50 Hz, on_low: trip, on_high: trip}\n"
    text = text.replace(level, level + level.replace("-BL1", "-BL2")).replace(select, spare + select)
    file.write_text(text, encoding="utf-8")
    assert len(conflicts(capsys, file)) == 1
    repairs = offered(capsys, file)
    last = repairs[-1]
    assert last["says"] == "leave out the reference spare of -TA1, which nothing selects"
    assert last["safe"] is False
    assert all(int(str(r["cost"])) < int(str(last["cost"])) for r in repairs[:-1])
    run(capsys, "repair", file, "--apply", last["number"])
    assert conflicts(capsys, file) == []
    assert file.read_text(encoding="utf-8") == text.replace(spare, "")


# Kinds of repairs, each made


CROSSED = "{AI1: reference auto, AI2: reference hand}"


def pump(folder: Path, *others: tuple[str, str], fixed: str = CROSSED) -> Path:
    """The brine pump with something else fixed: AI1 takes no current, so `reference auto` cannot stand there."""
    text = BRINE.read_text(encoding="utf-8")
    for old, new in (("{DI1: start, DI2: stop}", fixed), *others):
        assert old in text
        text = text.replace(old, new)
    file = folder / "pump.yaml"
    file.write_text(text, encoding="utf-8")
    return file


def numbered(capsys: pytest.CaptureFixture[str], file: Path, says: str) -> dict[str, object]:
    (found,) = (r for r in offered(capsys, file) if r["says"] == says)
    return found


def changed(before: str, file: Path) -> list[tuple[str, str]]:
    """Lines that differ, where as many stand there as before."""
    both = zip(before.splitlines(), file.read_text(encoding="utf-8").splitlines(), strict=True)
    return [(old, new) for old, new in both if old != new]


def test_two_functions_on_each_others_terminals_are_swapped(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = pump(tmp_path)
    text = file.read_text(encoding="utf-8")
    repair = numbered(capsys, file, "swap reference auto at -TA1:AI1 and reference hand at -TA1:AI2")
    assert (repair["cost"], repair["safe"]) == (2, True)
    assert run(capsys, "repair", file, "--apply", repair["number"])[0] == 0
    assert changed(text, file) == [
        (f"  -TA1: {CROSSED}", "  -TA1: {AI1: reference hand, AI2: reference auto}"),
    ]
    assert conflicts(capsys, file) == []


def test_a_signal_is_sent_otherwise_and_what_it_did_at_a_low_current_goes(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    four = ("transmitter_two_wire", "transmitter_four_wire")
    file = pump(tmp_path, four, fixed="{AI1: reference auto}")
    text = file.read_text(encoding="utf-8")
    repair = numbered(capsys, file, "auto of -TA1 as 0-10 V")
    assert (repair["cost"], repair["safe"]) == (4, False)
    assert run(capsys, "repair", file, "--apply", repair["number"])[0] == 0
    assert changed(text, file) == [
        (
            "      auto: {from: -BL1, signal: 4-20 mA, spans: 15 to 50 Hz, on_low: trip, on_high: trip}",
            "      auto: {from: -BL1, signal: 0-10 V, spans: 15 to 50 Hz, on_high: trip}",
        )
    ]
    assert conflicts(capsys, file) == []


def test_where_no_single_change_serves_two_are_made_together(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Two transmitters on a card of which all eight channels are kept free."""
    level = "  -BL1: {profile: transmitter_two_wire, measures: 0 to 3 m, at: +F1}\n"
    more = "".join(level.replace("-BL1", name) for name in ("-BL2", "-BL3"))
    card = "  -KE6: {profile: io_analog_in_8, at: +C1}\n"
    reads = "  -KE5: {inputs: source}\n"
    free = [f"AI{n}+: {{keep_free: later}}" for n in range(1, 9)]
    file = pump(
        tmp_path,
        (level, level + more + card),
        (reads, reads + "  -KE6: {reads: {one: -BL2, two: -BL3}}\n"),
        fixed="{DI1: start, DI2: stop}\n  -KE6: {" + ", ".join(free) + "}",
    )
    text = file.read_text(encoding="utf-8")
    repairs = offered(capsys, file)
    found = [(r["cost"], r["safe"], str(r["says"]).count("keep nothing free (later) at -KE6:")) for r in repairs]
    assert found == [(2, False, 2)] * 4
    assert run(capsys, "repair", file, "--apply", 1)[0] == 0
    assert changed(text, file) == [
        (f"  -KE6: {{{', '.join(free)}}}", f"  -KE6: {{{', '.join(free[2:])}}}"),
    ]
    assert conflicts(capsys, file) == []


def test_what_is_kept_free_is_named_with_its_reason_and_never_freed_safely(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = pump(tmp_path, fixed="{AI2: {keep_free: burnt}}")
    text = file.read_text(encoding="utf-8")
    repair = numbered(capsys, file, "keep nothing free (burnt) at -TA1:AI2")
    assert (repair["cost"], repair["safe"], repair["new_findings"]) == (1, False, [])
    assert run(capsys, "repair", file, "--apply", repair["number"])[0] == 0
    assert file.read_text(encoding="utf-8") == text.replace("fixed:\n  -TA1: {AI2: {keep_free: burnt}}\n\n", "")
    assert conflicts(capsys, file) == []


@pytest.fixture
def included(tmp_path: Path) -> Path:
    """The pump whose `fixed` stands alone in a file of its own."""
    file = pump(tmp_path)
    text = file.read_text(encoding="utf-8")
    section = f"fixed:\n  -TA1: {CROSSED}\n"
    file.write_text("include: terminals.yaml\n" + text.replace(section, ""), encoding="utf-8")
    (tmp_path / "terminals.yaml").write_text("# terminals in use\n" + section, encoding="utf-8")
    return file


def test_what_stands_in_an_included_file_is_changed_there(included: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text, fixed = included.read_bytes(), included.with_name("terminals.yaml")
    status, out, _ = run(capsys, "repair", included, "--apply", 1)
    assert (status, included.read_bytes()) == (0, text)
    assert fixed.read_text(encoding="utf-8") == (
        "# terminals in use\nfixed:\n  -TA1: {AI1: reference hand, AI2: reference auto}\n"
    )
    assert out == f"{fixed}: changed; as it was: {fixed}.bak\n"
    assert conflicts(capsys, included) == []


def test_a_repair_of_two_files_changes_both(included: Path, capsys: pytest.CaptureFixture[str]) -> None:
    fixed = included.with_name("terminals.yaml")
    repair = numbered(capsys, included, "-TA1 as drive_extended")
    run(capsys, "repair", included, "--apply", repair["number"])
    assert fixed.read_text(encoding="utf-8") == "# terminals in use\nfixed: {}\n"
    assert "-TA1: {profile: drive_extended, at: +C1}" in included.read_text(encoding="utf-8")
    assert conflicts(capsys, included) == []
    assert sorted(p.name for p in included.parent.iterdir()) == [
        *("pump.yaml", "pump.yaml.bak", "terminals.yaml", "terminals.yaml.bak"),
    ]


@pytest.mark.parametrize("fails_at", [1, 2])
def test_where_one_of_two_files_cannot_be_written_neither_is(
    included: Path, fails_at: int, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    before = {p.name: p.read_bytes() for p in included.parent.iterdir()}
    number = numbered(capsys, included, "-TA1 as drive_extended")["number"]
    put, count = os.replace, iter(range(1, 10))

    def full(one: Path, other: Path) -> None:
        if next(count) == fails_at:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        put(one, other)

    monkeypatch.setattr(os, "replace", full)
    status, out, err = run(capsys, "repair", included, "--apply", number)
    assert (status, out) == (2, "")
    assert "this file cannot be changed (No space left on device); nothing was changed" in err
    assert {p.name: p.read_bytes() for p in included.parent.iterdir()} == before


def test_where_no_copy_can_be_made_nothing_is_changed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """As in a folder that may only be read; who runs the tests as root may write there too."""
    file = pump(tmp_path)
    text = file.read_bytes()

    def refused(*_: object, **__: object) -> None:
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))

    monkeypatch.setattr(shutil, "copy2", refused)
    status, out, err = run(capsys, "repair", file, "--apply", 1)
    assert (status, out) == (2, "")
    assert "pump.yaml:1:1: error: this file cannot be changed (Permission denied); nothing was changed" in err
    assert [(p.name, p.read_bytes()) for p in tmp_path.iterdir()] == [("pump.yaml", text)]


def test_a_name_too_long_for_a_copy_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = pump(tmp_path)
    file = file.rename(tmp_path / f"{'p' * 248}.yaml")
    text = file.read_bytes()
    status, _, err = run(capsys, "repair", file, "--apply", 1)
    assert (status, file.read_bytes()) == (2, text)
    assert "nothing was changed" in err


def test_a_variant_is_repaired_in_the_variant(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    odd = f"  odd: {{fixed: {{-TA1: {CROSSED}}}}}"
    file = pump(tmp_path, ("variants:\n", f"variants:\n{odd}\n"), fixed="{DI1: start, DI2: stop}")
    text = file.read_text(encoding="utf-8")
    assert offered(capsys, file) == []
    assert run(capsys, "repair", file, "--variant", "odd", "--apply", 1)[0] == 0
    assert changed(text, file) == [(odd, odd.replace(CROSSED, "{AI1: reference hand, AI2: reference auto}"))]
    found = json.loads(run(capsys, "check", file, "--variant", "odd", "--format", "json")[1])
    assert found["conflicts"] == []
