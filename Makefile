# `make run` and `make test` need Python 3.11 or newer, make and the package registries.
PYTHON ?= python3
PORT ?= 8765
AT ?=

.PHONY: run test format
run: .venv/.run
	@.venv/bin/stillroom serve --port $(PORT) $(if $(AT),--at $(AT)) $(if $(wildcard stillroom.db),,--demo)

test: .venv/.test
	@PATH="$(CURDIR)/.venv/bin:$$PATH" bash scripts/test

format: .venv/.test
	.venv/bin/ruff format . && .venv/bin/ruff check --fix .

.venv/.run: pyproject.toml
	$(PYTHON) scripts/needs.py
	$(PYTHON) -m venv .venv
	.venv/bin/python -m pip install --quiet --disable-pip-version-check -e .
	@touch $@

.venv/.test: .venv/.run
	.venv/bin/python -m pip install --quiet --disable-pip-version-check -e ".[test]"
	@touch $@
