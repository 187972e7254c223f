#!/usr/bin/python3
"""KiCad's own check of the board, and the files for a maker, without a screen.

usage: board.py BOARD.kicad_pcb OUTPUT_FOLDER
Fills the planes, runs the design rule check, and writes into the folder: DRC.rpt, filled.kicad_pcb, gerber/ (one file a layer
and two drill files), placement.csv, and top.svg and bottom.svg to look at.
needs: apt-get install -y --no-install-recommends kicad kicad-footprints
"""
import os
import shutil
import sys

import pcbnew

source, out = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
os.makedirs(os.path.join(out, "gerber"), exist_ok=True)
# The rules lie beside the board under its name; a copy keeps the original untouched.
filled = os.path.join(out, "filled.kicad_pcb")
for end in (".kicad_pro", ".kicad_dru"):
    shutil.copy(os.path.splitext(source)[0] + end, os.path.join(out, "filled" + end))
shutil.copy(source, filled)
board = pcbnew.LoadBoard(filled)
pcbnew.ZONE_FILLER(board).Fill(board.Zones())
board.Save(filled)
board = pcbnew.LoadBoard(filled)
if not pcbnew.WriteDRCReport(board, os.path.join(out, "DRC.rpt"), pcbnew.EDA_UNITS_MILLIMETRES, True):
    sys.exit("the design rule check wrote no report")

plot = pcbnew.PLOT_CONTROLLER(board)
options = plot.GetPlotOptions()
options.SetOutputDirectory(os.path.join(out, "gerber"))
options.SetPlotFrameRef(False)
options.SetUseGerberProtelExtensions(True)
options.SetSubtractMaskFromSilk(True)
options.SetDrillMarksType(pcbnew.PCB_PLOT_PARAMS.NO_DRILL_SHAPE)
for layer, name in [(pcbnew.F_Cu, "F_Cu"), (pcbnew.B_Cu, "B_Cu"), (pcbnew.F_SilkS, "F_Silkscreen"), (pcbnew.F_Mask, "F_Mask"), (pcbnew.B_Mask, "B_Mask"), (pcbnew.Edge_Cuts, "Edge_Cuts")]:
    plot.SetLayer(layer)
    plot.OpenPlotfile(name, pcbnew.PLOT_FORMAT_GERBER, name)
    if not plot.PlotLayer():
        sys.exit("no plot of " + name)
plot.ClosePlot()
drill = pcbnew.EXCELLON_WRITER(board)
drill.SetOptions(False, False, board.GetDesignSettings().GetAuxOrigin(), False)
drill.SetFormat(True)
drill.CreateDrillandMapFilesSet(os.path.join(out, "gerber"), True, False)

with open(os.path.join(out, "placement.csv"), "w", encoding="utf-8") as file:
    file.write("reference,value,footprint,x mm,y mm,rotation,side\n")
    for part in sorted(board.GetFootprints(), key=lambda p: p.GetReference()):
        if part.GetAttributes() & pcbnew.FP_EXCLUDE_FROM_POS_FILES:
            continue
        at = part.GetPosition()
        file.write(f"{part.GetReference()},{part.GetValue()},{part.GetFPID().GetLibItemName()},{at.x / 1e6:.2f},{at.y / 1e6:.2f},{part.GetOrientation() / 10:.0f},{'bottom' if part.IsFlipped() else 'top'}\n")

# Two pictures to look at: copper, names and the edge of each side, the lower one as seen from below.
for name, layers, mirror in [("top", [pcbnew.F_Cu, pcbnew.F_SilkS, pcbnew.Edge_Cuts], False), ("bottom", [pcbnew.B_Cu, pcbnew.B_Mask, pcbnew.Edge_Cuts], True)]:
    look = pcbnew.PLOT_CONTROLLER(board)
    options = look.GetPlotOptions()
    options.SetOutputDirectory(out)
    options.SetPlotFrameRef(False)
    options.SetMirror(mirror)
    options.SetDrillMarksType(pcbnew.PCB_PLOT_PARAMS.FULL_DRILL_SHAPE)
    options.SetSvgPrecision(4, False)
    look.SetColorMode(True)
    look.SetLayer(layers[0])
    look.OpenPlotfile(name, pcbnew.PLOT_FORMAT_SVG, name)
    for layer in layers:
        look.SetLayer(layer)
        look.PlotLayer()
    look.ClosePlot()
