#!/usr/bin/env bash
# Every check there is, quickest first; stops at the first that fails.
set -euo pipefail
cd "$(dirname "$0")/.."
.ci/setup.sh test
bin=.venv/bin
# Nothing here may read or change the data of an installation that lies beside the code.
CLEATBOOK_DATA=$(mktemp -d)
export CLEATBOOK_DATA
trap 'rm -rf "$CLEATBOOK_DATA"' EXIT
unset DATABASE_URL

step() { echo "== $1"; shift; "$@"; }
step "style" "$bin/ruff" check .
step "format" "$bin/ruff" format --check .
step "templates" "$bin/djlint" templates --lint --quiet
step "template indents" "$bin/djhtml" --check --tabwidth 2 templates
step "types" "$bin/mypy" .
step "imports" "$bin/lint-imports"
step "migrations" "$bin/python" manage.py makemigrations --check --dry-run
step "settings" "$bin/python" manage.py check --fail-level WARNING
step "settings for production" env CLEATBOOK_PRODUCTION=1 CLEATBOOK_HOSTS=cleatbook.example.org \
  CLEATBOOK_SECRET_KEY="$("$bin/python" -c 'import secrets; print(secrets.token_urlsafe(64))')" \
  "$bin/python" manage.py check --deploy --fail-level WARNING
# Four on two cores: a test in a browser waits more than it computes.
step "tests" "$bin/pytest" -n 4 --dist worksteal "$@"
