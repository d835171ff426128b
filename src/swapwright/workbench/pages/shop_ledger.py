"""The ledger of the shop: how long it is, what verifying finds, checkpoints out and back in."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from swapwright.jobs import shop_ledger as jobs
from swapwright.workbench import links
from swapwright.workbench.shop_form import UNSENT, Asked, Sent, act, shop_and_actor, shown

LEDGER = "/shop/ledger"


def ledger(
    request: Request, sent: Sent = UNSENT, status: int = 200, told: jobs.Told | None = None
) -> Response:
    """Show the ledger; ``told`` is what verifying it just now found."""
    shop, actor = shop_and_actor(request)
    return shown(
        request,
        "shop_ledger.html",
        status,
        sent=sent,
        view=jobs.ledger_view(shop, actor),
        told=told,
        cannot=jobs.CANNOT_TELL,
        here=links.shop("ledger"),
    )


async def verify(request: Request) -> Response:
    """Verify the ledger, against what was given back, and show what was found."""

    def do(asked: Asked) -> Response:
        told = jobs.verify_now(asked.shop, asked.actor, asked.given, asked.file, asked.file_name)
        return ledger(request, told=told)

    return await act(request, "verify", do, ledger)


async def checkpoint(request: Request) -> Response:
    """Sign the ledger as it is and send the checkpoint as a file."""

    def do(asked: Asked) -> Response:
        made = jobs.checkpoint_given(asked.shop, asked.actor, jobs.DOWNLOADED)
        name = f"checkpoint-{made.number:08d}-{made.chained[:8]}.json"
        headers = {"content-disposition": f'attachment; filename="{name}"'}
        return Response(f"{made.document}\n", media_type="application/json", headers=headers)

    return await act(request, "checkpoint", do, ledger)


ROUTES: tuple[BaseRoute, ...] = (
    Route(LEDGER, ledger),
    Route(LEDGER + "/verify", verify, methods=["POST"]),
    Route(LEDGER + "/checkpoint", checkpoint, methods=["POST"]),
)
