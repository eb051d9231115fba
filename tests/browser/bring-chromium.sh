#!/bin/sh
# Sees to a Chromium for the tests of the page: the machine's, Debian's package, or Playwright's own.
# Where none can be had it says so; the tests then skip, or fail where CI is set.
python=$1
for name in chromium chromium-browser google-chrome chrome; do
  command -v "$name" >/dev/null 2>&1 && exit 0
done
if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
  { apt-get update -qq && apt-get install -y -qq --no-install-recommends chromium; } >/dev/null 2>&1
  command -v chromium >/dev/null 2>&1 && exit 0
fi
"$python" -m playwright install chromium >/dev/null 2>&1 || echo "no Chromium could be had: the page is not tested"
exit 0
