# Sourced by start and test: gets what is missing on this machine. Needs the
# variable purposes (words of .dev/packages) and yes (1: do not ask).

say() { printf '%s\n' "$*" >&2; }

ask() {
	[ "$yes" = 1 ] && return 0
	[ -t 0 ] || { say "Not asked, as there is no terminal to ask at; run again with --yes."; return 1; }
	printf '%s [y/N] ' "$1" >&2
	read -r answer
	case "$answer" in y | Y | yes) return 0 ;; *) return 1 ;; esac
}

as_root() {
	if [ "$(id -u)" = 0 ]; then "$@"; else sudo "$@"; fi
}

other_systems() {
	say "This script installs packages on Debian and Ubuntu only. Elsewhere, get these"
	say "first and run it again:"
	say "  Fedora:  sudo dnf install golang gcc pkgconf-pkg-config mesa-libGL-devel libX11-devel \\"
	say "           libXcursor-devel libXrandr-devel libXinerama-devel libXi-devel libXxf86vm-devel"
	say "  macOS:   xcode-select --install, and Go 1.24 or newer"
	say "  Windows: Go 1.24 or newer and a C compiler (MinGW-w64 gcc) on the path; then"
	say "           go build ./cmd/hemlet"
	say "The program hem needs Go alone: CGO_ENABLED=0 go build ./cmd/hem"
}

# go_minor prints the minor version of the Go on the path, 0 where there is none.
go_minor() {
	command -v go >/dev/null 2>&1 || { echo 0; return; }
	go env GOVERSION | sed -n 's/^go1\.\([0-9]*\).*/\1/p'
}

# From 1.21 on, Go fetches for itself the newer one that go.mod asks for.
enough_go=21

find_go() {
	[ "$(go_minor)" -ge "$enough_go" ] && return 0
	for dir in /usr/local/go/bin /usr/lib/go/bin "$HOME/go/bin"; do
		[ -x "$dir/go" ] && PATH="$dir:$PATH" && [ "$(go_minor)" -ge "$enough_go" ] && return 0
	done
	return 1
}

# candidate_minor prints the minor version of the Go that the package sources offer.
candidate_minor() {
	apt-cache policy golang-go | sed -n "s/^ *\(\*\*\* \)\{0,1\}2:1\.\([0-9]*\)~.*/\2/p" | sort -n | tail -n 1
}

get_go() {
	newest=$(candidate_minor)
	if [ "${newest:-0}" -lt "$enough_go" ]; then
		. /etc/os-release
		mirror=$(apt-get indextargets --format '$(REPO_URI)' 'Created-By: Packages' "Suite: $VERSION_CODENAME" 2>/dev/null | head -n 1)
		[ -n "$mirror" ] || mirror=$(apt-get indextargets --format '$(REPO_URI)' 'Created-By: Packages' 2>/dev/null | head -n 1)
		say "The Go that $PRETTY_NAME offers is too old; its backports hold a newer one."
		ask "Add the backports of $VERSION_CODENAME to the package sources?" || return 1
		signed=
		[ -f /usr/share/keyrings/debian-archive-keyring.gpg ] && signed='[signed-by=/usr/share/keyrings/debian-archive-keyring.gpg] '
		echo "deb $signed$mirror $VERSION_CODENAME-backports main" |
			as_root tee /etc/apt/sources.list.d/backports.list >/dev/null
		as_root apt-get update -qq
		as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends -t "$VERSION_CODENAME-backports" golang-go >/dev/null
	else
		as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends golang-go >/dev/null
	fi
	find_go
}

set_up() {
	if ! command -v apt-get >/dev/null 2>&1; then
		find_go && command -v gcc >/dev/null 2>&1 && return 0
		other_systems
		return 1
	fi
	missing=
	for p in $(sed -n "s/^\($(echo "$purposes" | sed 's/ /\\|/g')\) //p" .dev/packages); do
		dpkg-query -W -f '${Status}' "$p" 2>/dev/null | grep -q 'install ok installed' || missing="$missing $p"
	done
	need_go=0
	find_go || need_go=1
	if [ -n "$missing" ] || [ $need_go = 1 ]; then
		say "Missing on this machine:$missing$([ $need_go = 1 ] && echo ' golang-go')"
		[ "$(id -u)" = 0 ] || ask "Install with apt?" || return 1
		[ "$(id -u)" = 0 ] && yes=1
		as_root apt-get update -qq || return 1
		# shellcheck disable=SC2086 # a list of words
		[ -z "$missing" ] || as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing >/dev/null || return 1
		[ $need_go = 0 ] || get_go || {
			say "Get Go 1.24 or newer, put it on the path, and run this again."
			return 1
		}
	fi
	# Some distributions pin Go to the version they ship.
	[ "$(go_minor)" -ge 24 ] || export GOTOOLCHAIN=auto
}
