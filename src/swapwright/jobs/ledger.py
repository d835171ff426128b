"""The ledger as its owner keeps it: verify it, sign and export it, back it up, restore it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from swapwright.base.errors import InputError, Problem
from swapwright.jobs.text_file import plain_bytes, write_new
from swapwright.records.backup import back_up, restore
from swapwright.records.canonical import canonical
from swapwright.records.checkpoint import Checkpoint, checkpoint_now, checkpoint_of
from swapwright.records.engine import url_of
from swapwright.records.export import History, history_document, read_history
from swapwright.records.key import SigningKey, key_path, signing_key
from swapwright.records.record import LOCAL, Draft, Json
from swapwright.records.store import Store, open_store, utc_now
from swapwright.records.vehicles import vehicles
from swapwright.records.verify import Verification, verify

CHECKPOINTS = "checkpoint-*.json"
LONGEST_CHECKPOINT = 10_000
LONGEST_HISTORY = 2_000_000_000
"""Bytes of a file that is read; a history carries its pictures."""


@dataclass(frozen=True)
class Exported:
    """A checkpoint that was written to a file, and whether that lies where the store does."""

    checkpoint: Checkpoint
    file: Path
    is_beside_store: bool


@dataclass(frozen=True)
class HistoryWritten:
    """A vehicle's history that was written to a file."""

    file: Path
    history: History


def verify_ledger(place: str | Path, against: Sequence[str] = ()) -> Verification:
    """Verify a store by itself and against checkpoints from outside: files, folders, typed lines.

    Raises InputError where one of them cannot be read, or there is no store.
    """
    outside = checkpoints_of(against)
    with _opened(place) as store:
        return verify(store, outside)


def export_checkpoint(
    place: str | Path, folder: Path, *, key: Path | None, now: Callable[[], datetime]
) -> Exported:
    """Sign the ledger as it is into a file of its own in a folder, and put that on record."""
    with _opened(place, now) as store:
        checkpoint = checkpoint_now(store, store_key(place, key), now())
        number, chained = checkpoint.number, checkpoint.chained
        file = folder / f"checkpoint-{number:08d}-{chained[:8]}.json"
        _make_folder(folder)
        text = f"{checkpoint.document}\n"
        if not write_new(file, text) and _text(file, LONGEST_CHECKPOINT) != text:
            raise InputError(Problem(str(file), "", "there is another file of that name already"))
        body: dict[str, Json] = {"number": number, "chained": chained, "to": str(folder)}
        store.append(Draft("checkpoint.exported", LOCAL, {}, body))
    data = data_folder(place)
    beside = data is not None and data.resolve() in (folder.resolve(), *folder.resolve().parents)
    return Exported(checkpoint, file, beside)


def export_history(
    place: str | Path, vehicle: str, file: Path, *, key: Path | None, now: Callable[[], datetime]
) -> HistoryWritten | Verification:
    """Write a vehicle's whole history to a file; where the ledger has faults, return these instead.

    Raises InputError where there is no such vehicle, or a file of that name already.
    """
    with _opened(place, now) as store:
        found = verify(store)
        if found.faults:
            return found
        _known(store, vehicle)
        checkpoint = checkpoint_now(store, store_key(place, key), now())
        text = canonical(history_document(store, vehicle, checkpoint))
    if not write_new(file, f"{text}\n"):
        raise InputError(Problem(str(file), "", "there is a file of that name already"))
    return HistoryWritten(file, read_history(text, str(file)))


def check_history(file: Path, against: Sequence[str] = ()) -> History:
    """Verify a history file by itself and against checkpoints that came another way."""
    return read_history(_text(file, LONGEST_HISTORY), str(file), checkpoints_of(against))


def back_up_ledger(place: str | Path, file: Path) -> Verification:
    """Write a backup and say whether the chain in it holds.

    Raises InputError where there is a file of that name already.
    """
    with _opened(place) as store:
        try:
            return back_up(store, file)
        except OSError as error:
            raise _cannot(file, "written", error) from None


def restore_ledger(
    file: Path, place: str | Path, *, now: Callable[[], datetime], against: Sequence[str] = ()
) -> Verification:
    """Restore a backup into a place without records, and verify it there."""
    outside = checkpoints_of(against)
    store, found = restore(file, place, now=now)
    with closing(store):
        return verify(store, outside) if outside else found


def checkpoints_of(given: Sequence[str]) -> tuple[Checkpoint, ...]:
    """Return the checkpoints that were given: a file, a folder of them, or a typed line each."""
    found: list[Checkpoint] = []
    for each in given:
        # A printed line is longer than some systems let a file's name be, and is asked for first.
        if each.lower().startswith("record "):
            found.append(checkpoint_of(each, "the line given"))
        elif (folder := Path(each)).is_dir():
            files = sorted(folder.glob(CHECKPOINTS))
            if not files:
                raise InputError(Problem(each, "", "there is no checkpoint in this folder"))
            found += [_checkpoint(file) for file in files]
        else:
            found.append(_checkpoint(Path(each)))
    return tuple(found)


def data_folder(place: str | Path) -> Path | None:
    """Return the folder a store lies in; None for a database that is reached by URL."""
    url = url_of(place)
    if url.get_backend_name() != "sqlite" or not url.database:
        return None
    return Path(url.database).parent


def store_key(place: str | Path, key: Path | None) -> SigningKey:
    """Return the key checkpoints of a store are signed with; made at its first use."""
    return signing_key(key_path(key), data_folder(place))


def _known(store: Store, vehicle: str) -> None:
    known = vehicles(store.records(kinds=("vehicle.added",)))
    if vehicle not in known:
        names = ", ".join(known) or "none"
        raise InputError(Problem("vehicle", vehicle, "there is no such vehicle", allowed=names))


@contextmanager
def _opened(place: str | Path, now: Callable[[], datetime] = utc_now) -> Iterator[Store]:
    """Give a store that is there already: none is made by asking about it."""
    with closing(open_store(place, now=now, must_exist=True)) as store:
        yield store


def _checkpoint(file: Path) -> Checkpoint:
    return checkpoint_of(_text(file, LONGEST_CHECKPOINT), str(file))


def _text(file: Path, most: int) -> str:
    try:
        return plain_bytes(file, most).decode("utf-8")
    except UnicodeDecodeError:
        raise InputError(Problem(str(file), "", "this is no text")) from None
    except OSError as error:
        raise _cannot(file, "read", error) from None


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise _cannot(folder, "made", error) from None


def _cannot(path: Path, what: str, error: OSError) -> InputError:
    return InputError(Problem(str(path), "", f"cannot be {what}: {error.strerror}"))
