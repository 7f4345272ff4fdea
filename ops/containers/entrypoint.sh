#!/bin/sh
# First process of the PostgreSQL image that engine-up makes. Honours POSTGRES_USER, POSTGRES_PASSWORD, POSTGRES_DB and
# PGDATA, as Testcontainers sets them.
set -e
if [ $# -eq 0 ] || [ "${1#-}" != "$1" ]; then set -- postgres "$@"; fi
[ "$1" = postgres ] || exec "$@"

data="${PGDATA:-/var/lib/postgresql/data}"
user="${POSTGRES_USER:-postgres}"
database="${POSTGRES_DB:-$user}"
export PGDATA="$data"
as=
if [ "$(id -u)" = 0 ]; then
  mkdir -p "$data" /run/postgresql
  chmod 700 "$data"
  chown -R postgres:postgres "$data" /run/postgresql
  as='setpriv --reuid=postgres --regid=postgres --clear-groups'
fi
if [ ! -s "$data/PG_VERSION" ]; then
  [ -n "$POSTGRES_PASSWORD" ] || { echo 'POSTGRES_PASSWORD is not set' >&2; exit 1; }
  (umask 077; printf '%s\n' "$POSTGRES_PASSWORD" >/run/postgresql/password)
  [ -z "$as" ] || chown postgres:postgres /run/postgresql/password
  $as initdb -D "$data" -U "$user" --pwfile=/run/postgresql/password -A scram-sha-256 --auth-local=trust \
    -E UTF8 --locale=C.UTF-8 --no-sync >/dev/null
  rm -f /run/postgresql/password
  echo 'host all all all scram-sha-256' >>"$data/pg_hba.conf"
  # In single-user mode: a temporary server would let the readiness check succeed too early.
  [ "$database" = postgres ] || printf 'CREATE DATABASE "%s";\n' "$database" |
    $as postgres --single -D "$data" -j postgres >/dev/null
fi
exec $as "$@" -c listen_addresses='*' -c unix_socket_directories=/run/postgresql
