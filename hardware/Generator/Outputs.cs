namespace Intervalometer.Hardware;

/// <summary>Every generated file with its text, in memory; writing them is left to the caller.</summary>
public static class Outputs
{
    /// <summary>Path from the repository's top to content. Throws when the wiring table breaks a rule: a wrong table is never drawn.</summary>
    public static IReadOnlyDictionary<string, string> All(string root)
    {
        var folder = Path.Combine(root, "hardware");
        var circuit = Circuit.Load(folder);
        var facts = Facts.Load(folder);
        var violations = ElectricalRules.Check(circuit, facts, Role.Load(folder));
        if (violations.Count > 0)
        {
            throw new InvalidDataException("hardware/wiring.csv:\n" + string.Join("\n", violations.Select(v => $"  {v.Rule}: {v.Text}")));
        }

        var files = new SortedDictionary<string, string>(StringComparer.Ordinal);
        var schematic = new Schematic(circuit, folder);
        files["hardware/kicad/intervalometer.kicad_sym"] = schematic.Library();
        files["hardware/kicad/intervalometer.kicad_sch"] = schematic.Write();
        files["hardware/kicad/sym-lib-table"] = "(sym_lib_table\n  (lib (name \"intervalometer\")(type \"KiCad\")(uri \"${KIPRJMOD}/intervalometer.kicad_sym\")(options \"\")(descr \"Generated\"))\n)\n";
        var layout = new Layout(circuit, folder);
        var board = new BoardFile(layout);
        files["hardware/kicad/intervalometer.kicad_pcb"] = board.Write();
        files["hardware/kicad/intervalometer.kicad_pro"] = board.Project();
        files["hardware/kicad/intervalometer.kicad_dru"] = BoardFile.Rules();
        files["hardware/assembly-guide.md"] = AssemblyGuide.Page(layout);
        var picture = new BoardPicture(layout);
        files["hardware/pictures/board.svg"] = picture.Draw(0);
        foreach (var step in layout.Steps)
        {
            files[$"hardware/pictures/step-{step.Number:00}.svg"] = picture.Draw(step.Number);
        }

        var box = new BoxModel(layout, folder);
        files["hardware/box/tables.scad"] = box.Scad();
        files["hardware/pictures/board-view.svg"] = new BoardView(layout, box).Draw();
        files["hardware/spice/release-whole.cir"] = new FaultDeck(circuit).Write(null, 0, 0, 10e3).Replace("@options", "method=gear reltol=1e-3 abstol=1e-10 vntol=1e-5", StringComparison.Ordinal);
        files["hardware/faults.md"] = FaultPage.Page(folder);
        files["hardware/pictures/panel.svg"] = PanelPicture.Draw(PanelPicture.Load(folder));
        files["hardware/pictures/light-window.svg"] = new LightWindow(box).Draw(PanelPicture.Load(folder));
        var mock = new MockCamera(circuit, MockCamera.Load(circuit, folder));
        if (mock.Check() is { Count: > 0 } wrong)
        {
            throw new InvalidDataException("hardware/mock-camera.csv:\n" + string.Join("\n", wrong.Select(w => $"  {w}")));
        }

        files["hardware/mock-camera.md"] = mock.Page();
        files["hardware/pictures/mock-camera.svg"] = mock.Draw();
        files["hardware/bom.csv"] = Documents.BomTable(circuit, folder);
        files["hardware/bom.md"] = Documents.BomPage(circuit, folder);
        files["hardware/bus.md"] = new Bus(circuit, facts).Page();
        files["hardware/power.md"] = new PowerBudget(circuit, facts, folder).Page();
        files["firmware/Core/Release/ReleaseLimits.cs"] = Documents.Limits(folder);
        return files;
    }
}
