#!/bin/sh
# Installs the programs outside Python that the tests call; `spoken-exam` itself needs none of them.
# Where it may not install (no Debian, or not root), it names what is missing and stops.
set -eu

# A Debian package, and where its program is found: a command, or a path with wildcards.
packages='
ffmpeg              ffmpeg
flite               flite
espeak-ng           espeak-ng
sox                 sox
chromium            chromium
fonts-liberation    /usr/share/fonts/truetype/liberation*
libreoffice-writer  soffice
poppler-utils       pdftoppm
postgresql          /usr/lib/postgresql/*/bin/initdb
nodejs              node
npm                 npm
'

missing() {
    echo "$packages" | while read -r package place; do
        [ -n "$package" ] || continue
        case $place in
            /*) ls -d $place >/dev/null 2>&1 || echo "$package" ;;
            *) command -v "$place" >/dev/null || echo "$package" ;;
        esac
    done | tr '\n' ' '
}

needed=$(missing)
[ -n "$needed" ] || exit 0

if [ "$(id -u)" != 0 ] || ! command -v apt-get >/dev/null; then
    echo "The tests need programs that are not here: $needed" >&2
    echo "On Debian or Ubuntu, run as root: apt-get install --no-install-recommends $needed" >&2
    exit 1
fi

# The tests start a database server of their own; Debian's package would otherwise make a cluster and start it.
clusters=/etc/postgresql-common/createcluster.conf
if [ ! -e "$clusters" ]; then
    mkdir -p "$(dirname "$clusters")"
    echo 'create_main_cluster = false' >"$clusters"
fi

echo "Installing programs that the tests call: $needed"
export DEBIAN_FRONTEND=noninteractive
apt-get update -qq
# shellcheck disable=SC2086 # one word for each package
apt-get install -y -qq --no-install-recommends $needed >/dev/null

left=$(missing)
if [ -n "$left" ]; then
    echo "Installed, but still not found: $left" >&2
    exit 1
fi
