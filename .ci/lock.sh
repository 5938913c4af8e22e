#!/usr/bin/env bash
# Compiles the locks from pyproject.toml: versions and hashes only, for Python 3.11 and newer.
set -euo pipefail
cd "$(dirname "$0")/.."
compile=(.venv/bin/uv pip compile --quiet --universal --python-version 3.11 --generate-hashes
  --no-header --no-emit-index-url --no-annotate)
"${compile[@]}" pyproject.toml --output-file requirements.lock
"${compile[@]}" pyproject.toml --group dev --constraint requirements.lock \
  --output-file requirements-dev.lock
# Yardsticks of make bench: no part of make test.
"${compile[@]}" --group bench --constraint requirements-dev.lock \
  --output-file requirements-bench.lock
