# make demo   its own environment, a demo kit, the verdict       make test   everything, as CI runs it
# make check  the quick one before each commit                   make bench  speed and large sweeps
PYTHON ?= python3.11
VENV ?= .venv
BIN := $(VENV)/bin
export PYTHONPATH := $(CURDIR)/src
export PYTHONDONTWRITEBYTECODE := 1

.PHONY: demo test check bench format clean

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
	$(BIN)/python -m pytest -n 2

bench: $(VENV)/.developer
	$(BIN)/python -m benchmarks

format: $(VENV)/.developer
	$(BIN)/ruff format src tests benchmarks
	$(BIN)/ruff check --fix src tests benchmarks

clean:
	rm -rf $(VENV) kits out .mypy_cache .ruff_cache .pytest_cache .hypothesis
