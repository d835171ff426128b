"""What every page of a car is made from: the file as it stands, told in the person's units."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.templating import Jinja2Templates

from swapwright.build.revision import short
from swapwright.jobs.account import CAUTIONS
from swapwright.jobs.check import Checked
from swapwright.jobs.desk import Desk, Look
from swapwright.jobs.difference import Difference, difference
from swapwright.jobs.figure_text import Telling
from swapwright.jobs.strip import Strip, strip_of
from swapwright.workbench import links
from swapwright.workbench.garage import Garage
from swapwright.workbench.security import token_for
from swapwright.workbench.settings import COOKIE, Settings, settings_of


@dataclass(frozen=True)
class CarPage:
    """One car as a page sees it; ``look`` is the file, ``checked`` the last that was assessed."""

    name: str
    look: Look
    settings: Settings

    @cached_property
    def checked(self) -> Checked | None:
        """The car to show; the last good one where the file is broken."""
        return self.look.checked

    @cached_property
    def profile(self) -> str:
        """The units to show it in."""
        region = "" if self.checked is None else self.checked.assessment.region
        return self.settings.profile(region)

    @cached_property
    def telling(self) -> Telling | None:
        """What tells its figures, None where there is no car to show."""
        if self.checked is None:
            return None
        return Telling(self.checked, self.profile, self.settings.world)

    @cached_property
    def changed(self) -> Difference:
        """What changed since the saved revision."""
        return difference(self.look.before, self.checked, self.profile, self.settings.world)

    @cached_property
    def strip(self) -> Strip | None:
        """What is kept in view."""
        return None if self.telling is None else strip_of(self.telling, self.changed)

    @property
    def title(self) -> str:
        """The car's own name, or its file's."""
        return (self.checked.assessment.name if self.checked else "") or self.name

    @property
    def revision(self) -> str:
        """The short hash of the car shown."""
        return "" if self.checked is None else short(self.checked.assessment.revision)


def garage_of(request: Request) -> Garage:
    """Return the folder of cars."""
    found: Garage = request.app.state.garage
    return found


def desk_of(request: Request) -> Desk:
    """Return the desk of the car an address names; raise not found."""
    desk = garage_of(request).desk(request.path_params["car"])
    if desk is None:
        raise HTTPException(404, "there is no car of that name here")
    return desk


def settings_in(request: Request) -> Settings:
    """Return how the person wants pages."""
    return settings_of(request.cookies.get(COOKIE, ""))


def car_page(request: Request, look: Look | None = None) -> CarPage:
    """Return what the pages of a car are made from; raise not found."""
    desk = desk_of(request)
    return CarPage(
        request.path_params["car"], desk.look() if look is None else look, settings_in(request)
    )


def render(
    request: Request,
    template: str,
    *,
    status: int = 200,
    page: Any = None,
    here: str = "",
    **context: Any,
) -> Response:
    """Return a page from a template; ``page`` is a `CarPage` on a car's pages.

    ``here`` is the address the page's forms lead back to, where it is not the one asked for.
    """
    templates: Jinja2Templates = request.app.state.templates
    return templates.TemplateResponse(
        request,
        template,
        {
            "page": page,
            "settings": settings_in(request),
            "token": token_for(request),
            "visit": getattr(request.state, "visit", None),
            "here": here or _address(request),
            "cautions": CAUTIONS,
            **context,
        },
        status_code=status,
    )


def _address(request: Request) -> str:
    """Return the address a page is shown at, as forms lead back to it; the start after a POST."""
    if request.method != "GET":
        return links.START
    query = request.url.query
    return f"{request.url.path}?{query}" if query else request.url.path
