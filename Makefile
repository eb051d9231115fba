# make demo   its own environment, a demo kit, the verdict       make test   everything, as CI runs it
# make check  the quick one before each commit                   make bench  speed and large sweeps
PYTHON ?= python3.11
VENV ?= .venv
BIN := $(VENV)/bin
# Node comes with the developer's environment; Chromium is the machine's, Debian's or Playwright's own
PAGE := cd page && PATH="$(abspath $(BIN)):$$PATH"
export PYTHONPATH := $(CURDIR)/src

.PHONY: demo test check page bench format clean

$(VENV)/.user: pyproject.toml
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -e .
	@touch $@

$(VENV)/.developer: pyproject.toml
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -e ".[test,check]"
	@touch $@ $(VENV)/.user

demo: $(VENV)/.user
	@$(BIN)/strutwright build examples/mosswick-seedling-house.toml --out kits/mosswick-seedling-house --force || test $$? -eq 1

check: $(VENV)/.developer
	$(BIN)/ruff format --check src tests benchmarks
	$(BIN)/ruff check src tests benchmarks
	$(BIN)/mypy
	$(BIN)/lint-imports --no-cache
	$(BIN)/python -m pytest -n 2 -m "not whole"

test: $(VENV)/.developer
	$(BIN)/ruff format --check src tests benchmarks
	$(BIN)/ruff check src tests benchmarks
	$(BIN)/mypy
	$(BIN)/lint-imports --no-cache
	$(PAGE) npm ci --no-audit --no-fund --silent
	$(PAGE) npm run --silent types
	$(PAGE) npm test --silent
	@sh tests/browser/bring-chromium.sh $(BIN)/python
	@sh tests/unit/store/bring-postgresql.sh
	$(BIN)/python -m pytest -n 2

# after a change in page/src: what it writes into the package is committed
page: $(VENV)/.developer
	$(PAGE) npm ci --no-audit --no-fund --silent
	$(PAGE) npm run build

bench: $(VENV)/.developer
	$(BIN)/python -m benchmarks

format: $(VENV)/.developer
	$(BIN)/ruff format src tests benchmarks
	$(BIN)/ruff check --fix src tests benchmarks

clean:
	rm -rf $(VENV) kits out .mypy_cache .ruff_cache .pytest_cache .hypothesis
