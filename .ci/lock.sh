#!/usr/bin/env bash
# Compiles both locks from pyproject.toml: versions and hashes only, for Python 3.11 and newer.
set -euo pipefail
cd "$(dirname "$0")/.."
compile=(.venv/bin/uv pip compile --quiet --universal --python-version 3.11 --generate-hashes
  --no-header --no-emit-index-url --no-annotate pyproject.toml "$@")
"${compile[@]}" --output-file requirements.lock
"${compile[@]}" --group dev --constraint requirements.lock --output-file requirements-dev.lock
