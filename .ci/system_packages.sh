#!/usr/bin/env bash
# Sees to it that Debian's packages named on the command line are there: installs them if it
# may, else names them in one line with the command to type.
set -euo pipefail
if ! command -v dpkg-query >/dev/null; then
  echo "Note: this is not Debian, where Cleatbook is tested; what it needs is called there: $*"
  exit 0
fi
missing=()
for package in "$@"; do
  [[ $(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null) == installed ]] ||
    missing+=("$package")
done
((${#missing[@]})) || exit 0
as_root=()
if ((EUID)); then
  if command -v sudo >/dev/null && sudo -n true 2>/dev/null; then
    as_root=(sudo -n)
  else
    echo "Missing system packages. Type: sudo apt-get install --no-install-recommends ${missing[*]}" >&2
    exit 1
  fi
fi
echo "Installing system packages: ${missing[*]}"
log=$(mktemp)
trap 'rm -f "$log"' EXIT
apt=("${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -qq)
if ! { "${apt[@]}" update && "${apt[@]}" install -y --no-install-recommends "${missing[@]}"; } \
  >"$log" 2>&1 </dev/null; then
  cat "$log" >&2
  echo "Could not install: ${missing[*]}" >&2
  exit 1
fi
