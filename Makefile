# The few commands that there are; what they do lies in .ci/.
SHELL := /bin/bash
PORT ?= 8000
export PORT
.DEFAULT_GOAL := help
.PHONY: help run dev format test test-postgres bench pictures lock

help: ## List these commands
	@grep -hE '^[a-z-]+:.*## ' $(MAKEFILE_LIST) | sed -E 's/:.*## /\t/' | expand -t 16

run: ## Install what is needed, bring the database up to date, start server and worker
	@.ci/serve.sh

dev: ## The same with Django's own server, which reloads changed code and shows errors
	@.ci/serve.sh --dev

format: ## Lay out Python and templates as make test wants them
	@.ci/setup.sh test && .venv/bin/ruff check --fix --quiet . ; .venv/bin/ruff format --quiet . && .venv/bin/djhtml --tabwidth 2 templates >/dev/null

test: ## Install what the tests need, then check style, types and imports and run every test
	@.ci/test.sh

test-postgres: ## Run the tests that meet the database on a throw-away PostgreSQL
	@.ci/test_postgres.sh

bench: ## Measure, and print the figures as ratios
	@.ci/bench.sh

pictures: ## Make README's pictures anew from the demo
	@.ci/setup.sh test && .venv/bin/python .ci/pictures.py

lock: ## Compile both requirements locks from pyproject.toml
	@.ci/setup.sh test && .ci/lock.sh
