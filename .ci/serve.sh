#!/usr/bin/env bash
# Starts server and worker on this machine's own address; Ctrl-C stops both.
set -euo pipefail
cd "$(dirname "$0")/.."
umask 077
port=${PORT:-8000}
if (exec 3<>"/dev/tcp/127.0.0.1/$port") 2>/dev/null; then
  echo "Port $port is taken, perhaps by a Cleatbook that runs already. Type: make run PORT=$((port + 1))" >&2
  exit 1
fi

# Each in a process group of its own: Ctrl-C then reaches only this script, which tells each
# of them once. Told twice, a worker would drop the task that it has begun.
set -m
patience=15
# While it is being set up, all of a step is told; server and worker tell their own.
tell=-
stop() {
  trap '' INT TERM EXIT
  exec 2>/dev/null # the shell's own words on jobs that end
  local id until=$((SECONDS + patience))
  for id in $(jobs -p); do kill -TERM -- "$tell$id" || true; done
  for id in $(jobs -p); do
    while kill -0 -- "-$id" && ((SECONDS < until)); do sleep 0.1; done
    if kill -KILL -- "-$id"; then
      echo "A part of Cleatbook did not end within $patience s and was killed."
    fi
  done
}
trap 'stop; exit 0' INT TERM
trap stop EXIT
step() {
  "$@" &
  wait $!
}

step .ci/setup.sh run
manage=(.venv/bin/python manage.py)
step "${manage[@]}" migrate --if-needed --no-input --verbosity 0
# Loads the invented shop when there is no shop yet, and prints how to sign in to it.
step "${manage[@]}" load_demo --if-new

if [[ ${1:-} == --dev ]]; then
  export CLEATBOOK_DEBUG=1
  server=("${manage[@]}" runserver "127.0.0.1:$port")
else
  server=(.venv/bin/gunicorn --config .ci/gunicorn.py --bind "127.0.0.1:$port" shop.wsgi)
fi
tell=
"${manage[@]}" worker &
"${server[@]}" &
# Whichever ends first takes the other with it: half of Cleatbook is no Cleatbook.
wait -n
