"""What happens in a fault, as a person reads it."""

from __future__ import annotations

from swapwright.cli.console import Console
from swapwright.jobs.account import CAUTIONS, Account
from swapwright.jobs.opening import Opened
from swapwright.jobs.telling import tell


def write_accounts(
    console: Console, opened: Opened, accounts: tuple[Account, ...], profile: str
) -> None:
    """Write accounts one below the other, and the caution."""
    console.line(f"{opened.car.texts.get('car.name', '') or 'a car without a name'}: as drawn")
    for account in accounts:
        console.heading(account.title)
        if account.moments:
            console.columns(
                [(tell(each.time, "time", profile), each.text) for each in account.moments]
            )
            console.line()
        console.columns([(fact.label, fact.text(profile)) for fact in account.facts])
        for title, facts in account.groups:
            console.line()
            console.line(f"  {title}")
            console.columns([(fact.label, fact.text(profile)) for fact in facts], indent=4)
        for each in account.notes:
            console.wrapped(each, indent=2)
    console.line()
    for caution in CAUTIONS:
        console.wrapped(caution)
