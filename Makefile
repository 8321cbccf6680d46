PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/ready

# One thread for each numerical process: the work is small matrices, and two cores are shared.
export OMP_NUM_THREADS ?= 1
export OPENBLAS_NUM_THREADS ?= 1

.PHONY: demo browser test evidence bench check clean

$(READY): pyproject.toml requirements.lock
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet -r requirements.lock
	$(BIN)/python -m pip install --quiet --no-deps --no-build-isolation --editable .
	touch $(READY)

demo: $(READY) ## set up, run the main job on the example, say where the results are
	$(BIN)/sordino demo --out results

BROWSER := chromium chromium-driver

browser: ## a real browser for the tests of the page: installed if it is missing and may be
	@command -v chromium >/dev/null && command -v chromedriver >/dev/null || { \
		if command -v apt-get >/dev/null && [ "$$(id -u)" = 0 ]; then \
			apt-get update -qq && apt-get install -y -qq --no-install-recommends $(BROWSER) >/dev/null; \
		else \
			echo "The tests of the page need a browser: install chromium and its driver (Debian: apt-get install $(BROWSER))."; \
			exit 1; \
		fi; }

# The suite runs in two halves at once, a core for each; what is not in the first is in the second.
HALF := tests/web tests/published tests/laws tests/measure tests/build tests/assess
ALL := $(patsubst %/.,%,$(wildcard tests/*/.)) $(wildcard tests/test_*.py)
OTHER := $(filter-out $(HALF) tests/__pycache__,$(ALL))

test: $(READY) browser ## everything: style, types, the whole suite
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	@$(BIN)/python -m pytest -p no:cacheprovider $(HALF) & half=$$!; \
	$(BIN)/python -m pytest -p no:cacheprovider $(OTHER); other=$$?; \
	wait $$half && exit $$other

evidence: $(READY) ## every check against a published source, as one table
	@$(BIN)/python -m pytest tests/published --evidence -p no:cacheprovider > build-evidence.txt 2>&1; status=$$?; \
	grep -v '^evidence: ' build-evidence.txt; grep '^evidence: ' build-evidence.txt; rm -f build-evidence.txt; exit $$status

bench: $(READY) ## ratios measured in one run, with their goals
	$(BIN)/python -m benchmarks

clean:
	rm -rf $(VENV) results build .pytest_cache .mypy_cache .ruff_cache
