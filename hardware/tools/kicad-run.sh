#!/usr/bin/env bash
# Drives KiCad 6's schematic editor without a screen: electrical rules check, netlist and plot.
# KiCad 6 has no command line for these, so its own window is operated in a virtual one.
# usage: kicad-run.sh PROJECT.kicad_sch OUTPUT_FOLDER
# Leaves OUTPUT_FOLDER/{ERC.rpt,intervalometer.net,intervalometer.svg}; exits 1 when any of them is missing.
# needs: apt-get install -y --no-install-recommends kicad xvfb xdotool openbox
set -u
schematic=$(readlink -f "$1")
out=$2
work=$(mktemp -d)
export HOME=$work/home LC_ALL=C.UTF-8 # without a locale the editor waits for ever at its start
project=$work/project
settings=$HOME/.config/kicad/6.0
mkdir -p "$out" "$settings" "$project"
cp "$(dirname "$schematic")"/* "$project/"
rm -f "$out"/ERC.rpt "$out"/intervalometer.net "$out"/intervalometer.svg

# First-run questions are answered beforehand: no hints, empty global libraries, plot as SVG with its title block.
echo '(sym_lib_table)' > "$settings/sym-lib-table"
echo '(fp_lib_table)' > "$settings/fp-lib-table"
echo '{"do_not_show_again":{"env_var_overwrite_warning":true},"system":{"autosave_interval":0,"first_run_shown":true}}' > "$settings/kicad_common.json"
echo '{"plot":{"format":5,"frame_reference":true,"color":true,"background_color":false}}' > "$settings/eeschema.json"

Xvfb -displayfd 3 -screen 0 1600x1100x24 -nolisten tcp 3>"$work/display" 2>"$work/xvfb.log" &
x=$!
for _ in $(seq 100); do [ -s "$work/display" ] && break; sleep 0.1; done
export DISPLAY=:$(cat "$work/display")
openbox >/dev/null 2>&1 &
wm=$!
eeschema "$project/$(basename "$schematic")" 2>"$work/eeschema.log" &
editor=$!
finish() { kill $editor $wm 2>/dev/null; sleep 0.2; kill $x 2>/dev/null; rm -rf "$work"; }
trap finish EXIT

fail() {
    echo "kicad-run: $1" >&2
    xdotool search --onlyvisible --name . 2>/dev/null | while read -r id; do echo "  window: $(xdotool getwindowname "$id" 2>/dev/null)" >&2; done
    exit 1
}
window() { # waits until a window with this title is there
    for _ in $(seq 900); do
        id=$(xdotool search --onlyvisible --name "$1" 2>/dev/null | head -n 1)
        [ -n "$id" ] && { sleep 0.4; return; }
        sleep 0.1
    done
    fail "no window '$1' within 90 s"
}
gone() { # waits until no window has this title
    for _ in $(seq 300); do
        [ -z "$(xdotool search --onlyvisible --name "$1" 2>/dev/null)" ] && { sleep 0.2; return; }
        sleep 0.1
    done
    fail "window '$1' did not close"
}
file() { # waits until a file is there and has stopped growing
    for _ in $(seq 300); do
        if [ -s "$1" ]; then
            before=$(stat -c %s "$1"); sleep 0.3
            [ "$before" = "$(stat -c %s "$1")" ] && return
        fi
        sleep 0.1
    done
    fail "$1 was not written"
}

window 'intervalometer .*Schematic Editor'
sleep 1
xdotool key alt+i; sleep 0.5; xdotool key Return
window 'Electrical Rules Checker'
dialog=$id
xdotool key Return # Run
sleep 2
eval "$(xdotool getwindowgeometry --shell "$dialog")"
xdotool mousemove $((X + WIDTH - 60)) $((Y + HEIGHT - 80)) click 1 # Save...
window 'Save Report to File'
xdotool key Return
file "$project/ERC.rpt"
gone 'Save Report to File'
xdotool key Escape
gone 'Electrical Rules Checker'

xdotool key alt+f; sleep 0.5; xdotool key Down Down Down Down Down Down Down Right; sleep 0.5; xdotool key Down Return
window 'Export Netlist'
xdotool key Return
window 'Save Netlist File'
xdotool key Return
file "$project/intervalometer.net"
gone 'Export Netlist'

xdotool key alt+f; sleep 0.5; xdotool key Up Up Return
window 'Plot Schematic Options'
xdotool key Return
file "$project/intervalometer.svg"

# The plot names the minute it was made; without that, the same sheet gives the same bytes.
sed -i "s/ date [0-9\/]* [0-9:]* / /" "$project/intervalometer.svg"
cp "$project/ERC.rpt" "$project/intervalometer.net" "$project/intervalometer.svg" "$out/" || exit 1
