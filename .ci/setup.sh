#!/usr/bin/env bash
# Makes or refreshes the virtual environment and the system packages: setup.sh run|test|postgres
# A second call with nothing changed takes a fraction of a second.
set -euo pipefail
cd "$(dirname "$0")/.."
kind=${1:?usage: setup.sh run|test|postgres}

packages=(python3-venv libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0 fonts-dejavu-core)
lock=requirements.lock
if [[ $kind != run ]]; then
  # libatomic1: the browser driver's own Node wants it.
  packages+=(chromium libatomic1)
  lock=requirements-dev.lock
fi
[[ $kind == postgres ]] && packages+=(postgresql)
.ci/system_packages.sh "${packages[@]}"

if ! python3 -c 'import sys; sys.exit(sys.version_info < (3, 11))'; then
  echo "Cleatbook needs Python 3.11 or newer; this is $(python3 --version)." >&2
  exit 1
fi
# A stamp holds the hash of the lock that was installed last; the larger lock serves both uses.
stamp=.venv/installed-$lock
wanted=$(cat "$lock" | sha256sum)
if [[ -x .venv/bin/python && -f $stamp && $(<"$stamp") == "$wanted" ]]; then
  exit 0
fi
if [[ ! -x .venv/bin/python ]]; then
  echo "Making a virtual environment in .venv"
  python3 -m venv .venv
fi
echo "Installing from $lock"
rm -f .venv/installed-*
.venv/bin/python -m pip --disable-pip-version-check --no-input --quiet \
  install --require-hashes --only-binary :all: --requirement "$lock"
echo "$wanted" >"$stamp"
if [[ $lock == requirements-dev.lock ]]; then
  sha256sum <requirements.lock >.venv/installed-requirements.lock
fi
