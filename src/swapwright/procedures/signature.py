"""What a signature stands under: the run as it was, down to the hash of each record it rests on."""

from __future__ import annotations

import hashlib

from swapwright.procedures.run import Run
from swapwright.procedures.step import Step
from swapwright.records.canonical import canonical
from swapwright.records.record import Json, Record


def signed_content(run: Run, step: Step) -> str:
    """Return the SHA-256, in hexadecimal, of what a signature under a step binds to.

    It changes with the procedure, with every record that counts so far, and with who does the work;
    not with a note or a photo of another step beside it, and not with the first of two signatures.
    """
    evidence = {
        each.number: each.content
        for each in (
            *run.done.values(),
            *(each.record for each in run.taken.values()),
            *run.locks,
            *run.photos.values(),
            *_signed_before(run, step),
        )
    }
    rows: list[Json] = [[number, content] for number, content in sorted(evidence.items())]
    said: Json = {
        "run": run.id,
        "begun": run.begun.content,
        "revision": run.procedure.revision,
        "step": step.id,
        "worker": run.worker,
        "records": rows,
    }
    return hashlib.sha256(canonical(said).encode("utf-8")).hexdigest()


def _signed_before(run: Run, step: Step) -> tuple[Record, ...]:
    return tuple(
        each
        for name, signed in run.signatures.items()
        if name != step.id
        for each in signed.values()
    )
