#!/bin/sh
# Sees to a PostgreSQL server program for the tests of the records: the machine's, or Debian's package.
# The tests themselves start it on a free port, with data of its own, and stop it again.
# Where none can be had it says so; the tests then skip, or fail where CI is set.
there() {
  command -v initdb >/dev/null 2>&1 || ls /usr/lib/postgresql/*/bin/initdb >/dev/null 2>&1
}
there && exit 0
as_root=
[ "$(id -u)" = 0 ] || as_root="sudo -n"
if command -v apt-get >/dev/null 2>&1 && { [ -z "$as_root" ] || $as_root true 2>/dev/null; }; then
  {
    # no cluster of its own: the package would start a server on the usual port
    $as_root mkdir -p /etc/postgresql-common/createcluster.d
    echo "create_main_cluster = false" | $as_root tee /etc/postgresql-common/createcluster.d/none.conf
    $as_root apt-get update -qq
    $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends postgresql
  } >/dev/null 2>&1
  there && exit 0
fi
echo "no PostgreSQL could be had (apt-get install postgresql, as root): records are tried on SQLite alone"
[ -z "$CI" ] || exit 1
exit 0
