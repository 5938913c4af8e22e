#!/usr/bin/env bash
# Measures, beside other solvers where those can be installed: bench.sh
set -euo pipefail
cd "$(dirname "$0")/.."
.ci/setup.sh test
lock=requirements-bench.lock
stamp=.venv/installed-$lock
wanted=$(cat "$lock" requirements-dev.lock | sha256sum)
if [[ ! -f $stamp || $(<"$stamp") != "$wanted" ]]; then
  echo "Installing from $lock"
  # rectpack comes as source only, so it is built here.
  if .venv/bin/python -m pip --disable-pip-version-check --no-input --quiet install \
    --require-hashes --only-binary :all: --no-binary rectpack --requirement "$lock"; then
    echo "$wanted" >"$stamp"
  else
    echo "Measuring without the other solvers: they can't be installed here." >&2
  fi
fi
.venv/bin/pytest tests/bench -m bench -n0 -p no:randomly -s "$@"
