#!/bin/sh
# Brings what the tests in the browser need beside Python packages: a browser, and the library of accessibility rules.
# What cannot be brought is left out; the tests then say loudly what they could not try. Usage: prepare.sh FOLDER VERSION
folder=$1
version=$2

has() { command -v "$1" >/dev/null 2>&1; }
as_root_on_debian() { [ "$(id -u)" = 0 ] && [ -e /etc/debian_version ] && has apt-get; }

if [ -z "$HOOPWRIGHT_BROWSER" ] && ! has chromium && ! has chromium-browser && ! has google-chrome && ! has google-chrome-stable; then
  if as_root_on_debian; then
    echo "Installing Chromium for the tests in the browser ..."
    export DEBIAN_FRONTEND=noninteractive
    apt-cache show chromium >/dev/null 2>&1 || apt-get update -qq >/dev/null || true
    apt-get install -y -qq --no-install-recommends chromium >/dev/null || {
      apt-get update -qq >/dev/null && apt-get install -y -qq --no-install-recommends chromium >/dev/null
    } || echo "Chromium could not be installed."
  fi
fi

kept="$folder/node_modules/axe-core/package.json"
if ! grep -q "\"version\": \"$version\"" "$kept" 2>/dev/null && has npm; then
  mkdir -p "$folder"
  npm install --no-save --no-audit --no-fund --ignore-scripts --silent --fetch-retries=1 --fetch-timeout=30000 \
    --prefix "$folder" "axe-core@$version" \
    || echo "axe-core could not be fetched."
fi
exit 0
