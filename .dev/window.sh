# Sourced by smoke and screenshot: starts the window on a screen that nobody sees,
# and works it with mouse and keys. Needs Xvfb, openbox, xdotool and ImageMagick.

work=$(mktemp -d)
pids=
finish() {
	for pid in $pids; do kill "$pid" 2>/dev/null || :; done
	wait 2>/dev/null || :
	rm -rf "$work"
}
trap finish EXIT
trap 'exit 1' INT TERM

# programs: builds the window, whose file is $program, and $work/hem, or takes those that
# .dev/smokes has built for all trials.
programs() {
	program="$work/hemlet"
	if [ -n "${HEMLET_BUILT:-}" ]; then
		ln -s "$HEMLET_BUILT/hemlet" "$HEMLET_BUILT/hem" "$work"
		return
	fi
	go build -o "$program" ./cmd/hemlet
	CGO_ENABLED=0 go build -o "$work/hem" ./cmd/hem
}

# screen W H: starts a screen of the size with a window manager.
screen() {
	# -displayfd lets the server choose a number that is free.
	mkfifo "$work/number"
	Xvfb -displayfd 3 -screen 0 "$1x$2x24" -nolisten tcp 3>"$work/number" 2>"$work/xvfb.log" &
	pids="$pids $!"
	read -r number <"$work/number"
	rm "$work/number"
	export DISPLAY=":$number"
	openbox >"$work/openbox.log" 2>&1 &
	pids="$pids $!"
	# What the program keeps lies apart from the user's own.
	export LANGUAGE=en LC_ALL=C.UTF-8 FYNE_SCALE=1
	export XDG_CONFIG_HOME="$work/config" XDG_STATE_HOME="$work/state"
	mkdir -p "$XDG_CONFIG_HOME/fyne/org.hemlet.workbench" "$XDG_STATE_HOME"
}

# look light|dark: the look in which the next window comes up.
look() {
	printf '{"look":"%s"}\n' "$1" >"$XDG_CONFIG_HOME/fyne/org.hemlet.workbench/preferences.json"
}

# window W H [FILE]: starts the program and waits until it is to be seen. Sets pid,
# win, and took: the milliseconds from the start to the first picture in the window,
# told up to a twentieth of a second late.
window() {
	w=$1
	h=$2
	shift 2
	begun=$(date +%s%N)
	HOME="$work" "$program" "$@" 2>"$work/program.log" &
	pid=$!
	pids="$pids $pid"
	win=$(timeout 30 xdotool search --sync --onlyvisible --pid "$pid" | tail -n 1)
	[ -n "$win" ] || { echo "the window did not come up" >&2; cat "$work/program.log" >&2; exit 1; }
	for i in $(seq 200); do
		! drawn || break
	done
	took=$((($(date +%s%N) - begun) / 1000000))
	xdotool windowsize --sync "$win" "$w" "$h" windowmove "$win" 0 0
	sleep 1
	still
	xdotool windowfocus --sync "$win" || :
}

# drawn: whether anything is drawn in the middle of the window as it comes up, which
# is black before.
drawn() { import -window "$win" -crop 1x1+640+400 -depth 8 txt:- 2>/dev/null | sed 1d | grep -qv '#000000'; }

# still: waits until the window looks the same twice in a row, three seconds at
# most: the mark of a field with the keys never stops blinking.
still() {
	before=
	for i in 1 2 3 4 5 6; do
		sleep 0.4
		now=$(import -window "$win" rgb:- 2>/dev/null | cksum)
		[ "$now" != "$before" ] || return 0
		before=$now
	done
}

point() { xdotool mousemove --window "$win" "$1" "$2"; sleep 0.1; }
click() { point "$1" "$2"; xdotool click 1; sleep 0.3; }
shift_click() { point "$1" "$2"; xdotool keydown Shift; sleep 0.1; xdotool click 1; sleep 0.1; xdotool keyup Shift; sleep 0.3; }
drag() { # from x y to x y, in steps as a hand does
	point "$1" "$2"
	xdotool mousedown 1
	for i in 1 2 3 4 5 6; do
		point $(($1 + ($3 - $1) * i / 6)) $(($2 + ($4 - $2) * i / 6))
	done
	xdotool mouseup 1
	sleep 0.3
}
key() { for k; do xdotool key --clearmodifiers "$k"; sleep 0.2; done; }
write() { xdotool type --delay 15 "$1"; sleep 0.3; }
picture() { sleep 0.6; import -window "$win" "$1"; }
