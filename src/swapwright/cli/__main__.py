"""``python -m swapwright.cli``: the same as the ``swapwright`` command."""

from swapwright.cli.main import run

run()
