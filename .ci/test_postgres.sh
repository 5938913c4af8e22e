#!/usr/bin/env bash
# Runs the tests that meet the database, without a browser, on a PostgreSQL cluster that lives as long as they do.
set -euo pipefail
cd "$(dirname "$0")/.."
.ci/setup.sh postgres
bin=$(find /usr/lib/postgresql -mindepth 2 -maxdepth 2 -name bin | sort -V | tail -1)
cluster=$(mktemp -d /tmp/cleatbook-postgres-XXXXXX)
# PostgreSQL refuses to run as root; Debian's package brings a user for it.
as_owner=()
if ((EUID == 0)); then
  as_owner=(runuser -u postgres --)
  chown postgres "$cluster"
fi
stop() {
  (cd / && "${as_owner[@]}" "$bin/pg_ctl" -D "$cluster/data" -m immediate stop >/dev/null 2>&1) || true
  rm -rf "$cluster"
}
trap stop EXIT
# Reached through a socket in its own folder, so that no port can be taken already. Without
# fsync, since nobody will want this data after a power failure.
(
  cd /
  "${as_owner[@]}" "$bin/initdb" -D "$cluster/data" -U cleatbook -A trust -E UTF8 --locale=C.UTF-8 --no-sync >/dev/null
  "${as_owner[@]}" "$bin/pg_ctl" -D "$cluster/data" -w -l "$cluster/log" start >/dev/null \
    -o "-c listen_addresses= -c unix_socket_directories=$cluster -c fsync=off -c full_page_writes=off"
)
chmod 755 "$cluster"
export DATABASE_URL="postgres://cleatbook@${cluster//\//%2F}/postgres"
export PATH="$bin:$PATH"
.venv/bin/pytest -n 3 --dist worksteal -m "database and not browser and not same_anywhere" "$@"
