# `make demo` and `make test` make their own environment from nothing; they need Python 3.11+ and make.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin

.PHONY: demo interview page test quick coverage release check format install rule site site-record planning displaced mutants mutants-matcher rewritings taken fuzz bench draft docs clean

demo: $(VENV)/.installed
	@$(BIN)/advisor review scenarios/galley-kitchen-faulty.yaml

# On a plan of your own: make interview START="tile a backsplash", or a sentence, or a plan file; without, it asks.
interview: $(VENV)/.installed
	@$(BIN)/advisor interview $(if $(START),"$(START)")

page: $(VENV)/.page
	@$(BIN)/advisor serve

test: $(VENV)/.tools
	$(BIN)/python -m pytest -n 2 --dist worksteal

# What a change usually breaks, in well under a minute: no bulk, fuzz, wheel, browser, other interpreters.
quick: $(VENV)/.tools
	$(BIN)/python -m pytest -n 2 $(QUICK)

# Of the rule base only what does not read all rules anew for each test.
QUICK := tests/plan tests/calculators advisor/calculators tests/rulebase/test_vocabulary.py tests/rulebase/test_practices.py \
	tests/rulebase/test_words_of_rules.py tests/cli/test_help.py tests/scenarios/test_scenarios.py tests/test_house.py \
	tests/test_errors.py

# Which lines and branches the tests run, file by file: all tests, or COVERED="tests/plan tests/rulebase".
coverage: $(VENV)/.tools
	rm -rf build/coverage && mkdir -p build/coverage
	$(BIN)/coverage run -m pytest -n 2 --dist worksteal $(COVERED)
	$(BIN)/coverage combine --quiet
	$(BIN)/coverage report

check: $(VENV)/.tools
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/advisor rules lint

format: $(VENV)/.tools
	$(BIN)/ruff check --fix .
	$(BIN)/ruff format .

# The promises of what may be so on all plans: some hours.
site: $(VENV)/.tools
	SITE_FULL=1 $(BIN)/python -m pytest -n 2 -s tests/site

# One rule from its writing to the docs: make rule ID=dry-floor-first, with RULES=DIR for a folder of your own.
rule: $(VENV)/.tools
	$(BIN)/python tests/rules/one_rule.py $(ID) $(RULES)

mutants: $(VENV)/.tools
	$(BIN)/python tests/rules/mutants.py $(PACKS)

mutants-matcher: $(VENV)/.tools
	$(BIN)/python tests/engine/matcher_mutants.py

# A night of it: other seeds with FUZZ_FROM=100000.
FUZZ ?= 100000
fuzz: $(VENV)/.tools
	FUZZ=$(FUZZ) GENERATED=1000 GENERATED_REPORTS=200 $(BIN)/python -m pytest -n 2 \
		tests/fuzz tests/engine/test_clips.py tests/test_determinism.py

# All plans of the record of the old rule base; `make test` takes a tenth of them.
site-record: $(VENV)/.tools
	SITE_RECORD=1 $(BIN)/python -m pytest tests/site/test_changes.py

# All generated sites against the planning library, and all displaced steps; `make test` takes a tenth of them.
planning: $(VENV)/.tools
	PLANNING=all $(BIN)/python -m pytest -n 2 tests/site/test_planning.py

displaced: $(VENV)/.tools
	DISPLACED=all $(BIN)/python -m pytest -n 2 tests/site/test_displaced.py

# Every rewriting on every plan of the record; `make test` takes a tenth. About half an hour on two cores.
rewritings: $(VENV)/.tools
	REWRITINGS=1 $(BIN)/python -m pytest -n 2 tests/site/test_rewritings.py

# All advice taken, on every case and generated plan, in twenty orders, killed in mid-write 200 times. Some hours.
taken: $(VENV)/.tools
	TAKEN=all $(BIN)/python -m pytest -n 2 -s tests/review/test_taken.py

# Say → hear → the same plan, over every attribute with each of its words; `make test` takes a tenth.
draft: $(VENV)/.tools
	DRAFT_FULL=1 $(BIN)/python -m pytest -n 2 tests/draft

docs: $(VENV)/.tools
	$(BIN)/python tests/docs.py

bench: $(VENV)/.tools
	$(BIN)/python benchmarks/run

# The wheel, built, installed away from the tree into an environment of its own, and the demo reviewed with it.
release: $(VENV)/.tools
	rm -rf build/release
	$(BIN)/python -m pip wheel --quiet --no-deps --wheel-dir build/release .
	$(PYTHON) -m venv build/release/venv
	build/release/venv/bin/pip install --quiet --disable-pip-version-check -c constraints.txt build/release/*.whl
	cd build/release && venv/bin/advisor --version && venv/bin/advisor review $(CURDIR)/scenarios/galley-kitchen-faulty.yaml --brief

install: $(VENV)/.tools

$(VENV)/bin/python:
	@$(PYTHON) -c 'import sys; sys.exit("Python 3.11 or newer is needed; try: make PYTHON=python3.11 " if sys.version_info < (3, 11) else 0)'
	$(PYTHON) -m venv $(VENV)

$(VENV)/.installed: pyproject.toml constraints.txt | $(VENV)/bin/python
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -c constraints.txt -e .
	@touch $@

$(VENV)/.page: $(VENV)/.installed
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -c constraints.txt -e '.[page]'
	@touch $@

$(VENV)/.tools: $(VENV)/.installed requirements-dev.txt
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -c constraints.txt -r requirements-dev.txt
	@touch $@

clean:
	rm -rf $(VENV) build *.egg-info .pytest_cache .mypy_cache .ruff_cache
