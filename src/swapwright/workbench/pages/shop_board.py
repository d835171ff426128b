"""The board of the shop: every vehicle with its two marks, for a desk and for a wall."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from swapwright.jobs.shop_board import board_rows
from swapwright.jobs.shop_equipment import due_rows
from swapwright.jobs.shop_history import moment_words
from swapwright.workbench import links
from swapwright.workbench.shop_form import shop_and_actor, shown


def board(request: Request) -> Response:
    """Show the board."""
    return shown(request, "shop_board.html", **_board(request), here=links.SHOP)


def wall(request: Request) -> Response:
    """Show the board and what is due for a wall: very large, nothing to press."""
    return shown(request, "shop_wall.html", **_board(request), here=links.shop("wall"))


def part(request: Request) -> Response:
    """Send the board alone: what an open page puts in the place of its own."""
    return shown(request, "_shop_board.html", **_board(request), here=links.SHOP)


ROUTES: tuple[BaseRoute, ...] = (
    Route(links.SHOP, board),
    Route("/shop/wall", wall),
    Route("/shop/board", part),
)


def _board(request: Request) -> dict[str, Any]:
    shop, actor = shop_and_actor(request)
    due = due_rows(shop, actor)
    return {
        "vehicles": board_rows(shop, actor),
        "rows": due,
        "pressing": [row for row in due if not row.due.may_be_used or row.due.state == "due soon"],
        "now": moment_words(shop.now()),
    }
