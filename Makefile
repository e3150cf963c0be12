# Two commands do everything: `make demo` and `make test`. Both set themselves up first.
# On a system without make, README.md says the same in plain Python commands.
PYTHON ?= python3
VENV ?= .venv
BIN := $(VENV)/bin
STAMP := $(VENV)/.installed
DEMO ?= out/tide-mill-flap

BROWSER_PARTS := build/browser-tests
AXE_CORE := 4.14.1

.PHONY: demo test check browser soak bench goldens pictures clean

$(STAMP): pyproject.toml constraints.txt
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -c constraints.txt -e '.[dev]'
	@touch $(STAMP)

demo: $(STAMP)
	$(BIN)/hoopwright build examples/tide-mill-flap/project.toml --out $(DEMO)

check: $(STAMP)
	$(BIN)/ruff check src tests docs
	$(BIN)/ruff format --check src tests docs
	$(BIN)/mypy
	$(BIN)/lint-imports --no-cache

# A browser and the accessibility rules for tests/browser; what cannot be had is skipped there, and said.
browser: $(STAMP)
	@sh tests/browser/prepare.sh $(BROWSER_PARTS) $(AXE_CORE)

test: check browser
	$(BIN)/python -m pytest -n 2 --dist loadfile --cov --cov-report=term

soak: $(STAMP)
	$(BIN)/python -m pytest -m soak --hypothesis-profile=soak

bench: $(STAMP) browser
	$(BIN)/python -m pytest -m bench -s

goldens: $(STAMP)
	$(BIN)/python -m pytest tests/golden --write-goldens

pictures: $(STAMP)
	$(BIN)/python docs/draw_pictures.py

clean:
	rm -rf $(VENV) out build dist .mypy_cache .pytest_cache .ruff_cache .hypothesis .coverage
