# shellcheck shell=bash disable=SC2154
# A private view of other suites of the archive that this system installs from: apt with its own
# source list and state, so that the system's set-up is neither read by it nor changed. No host
# name is written here; the address is whatever the system itself uses.
#
# For web-shell/setup, which has $cache, $work, say and stop.

# own_sources FOLDER CODENAME: prints the archive entries in FOLDER (/etc/apt) that carry the main
# component of release CODENAME (alternatives may be given as a|b), each as a deb822 stanza.
# Entries of other vendors may be among them.
own_sources() {
    local folder=$1 codename=$2 file
    for file in "$folder"/sources.list.d/*.sources; do
        [ -f "$file" ] || continue
        awk -v RS= -v code="$codename" '
            { enabled = 1; suite = 0; main = 0
              n = split($0, line, "\n")
              for (i = 1; i <= n; i++) {
                  if (tolower(line[i]) ~ /^enabled:[ \t]*(no|false|0)/) enabled = 0
                  if (line[i] ~ /^Suites:/ && line[i] ~ ("[: \t](" code ")([ \t]|$)")) suite = 1
                  if (line[i] ~ /^Components:/ && line[i] ~ /[: \t]main([ \t]|$)/) main = 1
              }
              if (enabled && suite && main) print $0 "\n" }' "$file"
    done
    { cat "$folder/sources.list" "$folder"/sources.list.d/*.list 2>/dev/null || true; } |
        sed -nE "s/^deb[ \t]+(\[([^]]*)\][ \t]+)?([^ \t]+)[ \t]+($codename)[ \t]+(.*[ \t])?main\
([ \t].*)?\$/\2|\3/p" |
        while IFS='|' read -r options address; do
            printf 'Types: deb\nURIs: %s\nSuites: %s\nComponents: main\n' "$address" "$codename"
            printf '%s\n' "$options" | tr ' ' '\n' |
                sed -nE 's/^signed-by=/Signed-By: /p; s/^trusted=/Trusted: /p'
            printf '\n'
        done
}

# rank_sources FOLDER: writes each stanza of standard input to a file in FOLDER whose name sorts by
# how surely it is the distribution's own archive: signed by its keyring, or at least named like it.
rank_sources() {
    awk -v RS= -v folder="$1" '
        { rank = /debian-archive/ ? 0 : /URIs:[^\n]*\/debian\/?([ \t\n]|$)/ ? 1 : 2
          file = folder "/" rank sprintf("%03d", NR)
          print > file
          close(file) }'
}

# Runs an apt tool that sees only the opened VIEW and keeps its state in the cache folder.
private_apt() {
    local view=$1 tool=$2
    shift 2
    "$tool" -q -o "Dir::Etc::sourcelist=$cache/apt/$view.sources" \
        -o Dir::Etc::sourceparts=/dev/null -o Dir::Etc::preferencesparts=/dev/null \
        -o "Dir::State::lists=$cache/apt/$view/lists" -o "Dir::Cache=$cache/apt/$view/cache" \
        -o Acquire::Retries=3 -o Acquire::Languages=none -o APT::Sandbox::User=root "$@"
}

# open_view SUITE KIND PACKAGE: makes a view of SUITE that knows PACKAGE and sets $view to its
# name. KIND is deb (built packages) or deb-src (sources). Fails if there is no such package.
open_view() {
    local suite=$1 kind=$2 package=$3 codename count look entry
    view=$suite-$kind
    # shellcheck source=/dev/null
    codename=$(. /etc/os-release && printf %s "${VERSION_CODENAME:-}")
    [ -n "$codename" ] || stop "This system does not tell its release name in /etc/os-release."
    look=show
    [ "$kind" = deb ] || look=showsrc
    mkdir -p "$cache/apt/$view/lists/partial" "$cache/apt/$view/cache/archives/partial"
    rm -rf "$work/sources"
    mkdir -p "$work/sources"
    own_sources /etc/apt "$codename|stable|oldstable" | rank_sources "$work/sources"
    count=0
    for entry in "$work"/sources/*; do
        [ -f "$entry" ] || continue
        count=$((count + 1))
        sed -E "s/^Types:.*/Types: $kind/; s/^Suites:.*/Suites: $suite/
            s/^Components:.*/Components: main/" "$entry" >"$cache/apt/$view.sources"
        private_apt "$view" apt-get update >"$cache/apt/$view.log" 2>&1 || continue
        # No grep -q: it would leave before apt has said all, which pipefail takes for a failure.
        if private_apt "$view" apt-cache "$look" "$package" 2>/dev/null |
            grep '^Version:' >/dev/null; then return 0; fi
    done
    say "no $package in suite $suite ($count archive entries of this system tried; see \
$cache/apt/$view.log)"
    return 1
}
