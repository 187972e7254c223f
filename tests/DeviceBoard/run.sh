#!/usr/bin/env bash
# Runs the firmware on the platform's own runtime, on a stand-in board, and compares it with the virtual board.
#
# Usage: tests/DeviceBoard/run.sh RUNTIME [options]
#   RUNTIME   a folder with the platform's converter and runtime for a PC (files "topes" and "clr"), built elsewhere
#   options   --case NAME...    only these scripts: screens frames waves light heap morning
#             --no-place        without a place; else with the largest one in the memory
#             --place-in-firmware  with the largest place in the firmware's image, as firmware/Flash --place puts it there
#             --no-suite        without the device suite
#             --smallest        look for the smallest heap in which the scripts play
#             --show            print both pictures where one differs
#             --fault KIND      force a fault at every start (--fault x lists the kinds), --starts N of them at most
#             --work FOLDER     keep what is made on the way, each run's output too
# NANO_HEAP        heap of the box, bytes (65536); the stand-ins' own share is measured and comes on top
# NANO_SUITE_HEAP  heap of the device suite, bytes (139264)
#
# Builds the Release build for the device against firmware/Contracts, takes its assemblies with their references (none is named
# here), puts the stand-ins in the place of the contracts, converts, runs, compares, and ends with "N passed, N failed".
set -euo pipefail
if [ $# -lt 1 ] || [ ! -x "$1/clr" ] || [ ! -x "$1/topes" ]; then
  sed -n '2,18p' "$0" >&2
  echo "run.sh: name the folder that holds the platform's converter (topes) and runtime (clr); ${1:-nothing was named} is not it." >&2
  exit 2
fi
runtime=$(realpath "$1"); shift
root=$(realpath "$(dirname "$0")/../..")
# No compiler stays behind: it would keep what this script was started with, a lock for instance.
export MSBUILDDISABLENODEREUSE=1 UseSharedCompilation=false DOTNET_CLI_TELEMETRY_OPTOUT=1
build() { dotnet build "$root/$1" -c Release -nologo -v q -clp:ErrorsOnly "${@:2}"; }
build firmware/Esp32/Esp32.csproj
build tests/DeviceConsole/DeviceConsole.csproj -f netnano1.0
build tests/DeviceBoard/Alone/StandIn.Alone.csproj
build tests/DeviceBoard/Bare/StandIn.Bare.csproj
build tests/DeviceBoard/Compare/Compare.csproj
exec dotnet "$root/tests/DeviceBoard/Compare/bin/Release/net10.0/Intervalometer.Tests.DeviceBoard.Compare.dll" --runtime "$runtime" --root "$root" "$@"
