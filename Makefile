# Two commands do everything: `make demo` and `make test`. Both set themselves up first.
# On a system without make, README.md says the same in plain Python commands.
PYTHON ?= python3
VENV ?= .venv
BIN := $(VENV)/bin
STAMP := $(VENV)/.installed
DEMO ?= out/tide-mill-flap

BROWSER_PARTS := build/browser-tests
AXE_CORE := 4.14.1

# How many tests run at once: one more than the two processors that are reckoned with, for tests in the browser wait a good deal.
# Each process takes about 1 GB, with its browser.
WORKERS ?= 3
# Tests start the program often; it is compiled once, also where the surroundings ask that nothing compiled be kept.
unexport PYTHONDONTWRITEBYTECODE

PYTEST := $(BIN)/python -m pytest
# A file stays in one process, for what its tests share; files go out in the order of tests/conftest.py.
SHARED := -n $(WORKERS) --dist loadfile --no-loadscope-reorder

.PHONY: demo test check words types browser coverage soak bench goldens pictures screenshots clean

$(STAMP): pyproject.toml constraints.txt
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -c constraints.txt -e '.[dev]'
	@touch $(STAMP)

demo: $(STAMP)
	$(BIN)/hoopwright build examples/tide-mill-flap/project.toml --out $(DEMO)

check: words types

words: $(STAMP)
	$(BIN)/ruff check src tests docs
	$(BIN)/ruff format --check src tests docs
	$(BIN)/lint-imports --no-cache

types: $(STAMP)
	$(BIN)/mypy

# A browser and the accessibility rules for tests/browser; what cannot be had is skipped there, and said.
browser: $(STAMP)
	@sh tests/browser/prepare.sh $(BROWSER_PARTS) $(AXE_CORE)

# Types are checked beside the tests; what was found stands below their report. Tests are found once beforehand, so that one
# process compiles them and not each of those that run them.
test: words browser
	@mkdir -p build
	@$(BIN)/mypy >build/types.txt 2>&1 & types=$$!; \
	$(PYTEST) --collect-only >build/tests.txt 2>&1; \
	$(PYTEST) $(SHARED); tests=$$?; \
	wait $$types; typed=$$?; cat build/types.txt; \
	exit $$((tests || typed))

# The tests once more with covered lines counted, and the bound that pyproject.toml sets: counting takes two thirds as long again.
coverage: $(STAMP) browser
	$(PYTEST) $(SHARED) --cov --cov-report=term

soak: $(STAMP) browser
	$(PYTEST) -m soak --hypothesis-profile=soak

bench: $(STAMP) browser
	$(PYTEST) -m bench -s

goldens: $(STAMP)
	$(PYTEST) tests/golden --write-goldens

pictures: $(STAMP)
	$(BIN)/python docs/draw_pictures.py

# Pictures of the worktable for the first page, taken in Chromium: looked at, not compared.
screenshots: $(STAMP)
	$(BIN)/python -m tests.browser.screenshots

clean:
	rm -rf $(VENV) out build dist .mypy_cache .pytest_cache .ruff_cache .hypothesis .coverage
