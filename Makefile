# make run     open the workbench in the browser; sets everything up first, as each of these does
# make check   assess the example car in the terminal
# make test    every check: lint, types, layers, tests
# make lint    style and layout of the code
# make types   the types of the code
# make layers  that a package imports only from lower layers
# make tests   the tests alone
# make bench   how quick it is, as ratios against references
# make pages   write anew what the pages show of commands; read them afterwards
# make lock    write the requirement files anew from pyproject.toml (needs uv on the path)
# make clean   remove what the rules here made
# make help    these lines

PYTHON ?= python3
VENV   := .venv
BIN    := $(VENV)/bin
PIP    := $(BIN)/python -m pip
COMPILE := uv pip compile --quiet --universal --generate-hashes --no-emit-index-url \
	--no-annotate --custom-compile-command "make lock" --python-version 3.11 pyproject.toml

export PIP_USER := 0
export PIP_DISABLE_PIP_VERSION_CHECK := 1
export PYTHONNOUSERSITE := 1

.DELETE_ON_ERROR:
.PHONY: run check test lint types layers tests bench pages lock clean help

run: $(VENV)/.ok-run
	@$(BIN)/swapwright workbench my-cars --examples examples

check: $(VENV)/.ok-run
	$(BIN)/swapwright check examples/ridgeway.toml

test: lint types layers tests

lint: $(VENV)/.ok-test
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .

types: $(VENV)/.ok-test
	$(BIN)/mypy

layers: $(VENV)/.ok-test
	$(BIN)/lint-imports

tests: $(VENV)/.ok-test
	$(BIN)/pytest

bench: $(VENV)/.ok-test
	$(BIN)/python -m bench

pages: $(VENV)/.ok-test
	$(BIN)/python tests/guard/console_pages.py

# A virtual environment that works is kept, whoever made it; a broken one is made anew.
$(VENV)/.ok-venv:
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' \
		|| { echo "Swapwright needs Python 3.11 or newer; name one: make PYTHON=python3.12" >&2; exit 1; }
	@$(PYTHON) -c 'import venv, ensurepip' 2>/dev/null || sh .ci/install-venv
	$(BIN)/python -m pip --version >/dev/null 2>&1 || $(PYTHON) -m venv --clear $(VENV)
	@touch $@

$(VENV)/.ok-run: requirements.txt pyproject.toml $(VENV)/.ok-venv
	$(PIP) install --quiet --require-hashes -r requirements.txt
	$(PIP) install --quiet --no-deps --no-build-isolation --editable .
	@touch $@

# Everything that runs is in the test set too, at the same versions.
$(VENV)/.ok-test: requirements-test.txt pyproject.toml $(VENV)/.ok-venv
	$(PIP) install --quiet --require-hashes -r requirements-test.txt
	$(PIP) install --quiet --no-deps --no-build-isolation --editable .
	@touch $@ $(VENV)/.ok-run

# The build back end goes in by standard input; the run set takes the test set's versions.
lock:
	printf 'hatchling\neditables\n' | $(COMPILE) --extra test - -o requirements-test.txt
	printf 'hatchling\neditables\n' | $(COMPILE) -c requirements-test.txt - -o requirements.txt

clean:
	rm -rf $(VENV) .pytest_cache .mypy_cache .ruff_cache .hypothesis .import_linter_cache \
		build-output dist
	find . -name __pycache__ -prune -exec rm -rf {} +

help:
	@sed -n 's/^# make /make /p' Makefile
