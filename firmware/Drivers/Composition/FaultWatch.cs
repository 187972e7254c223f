using Intervalometer.Drivers.Ds3231;
using Intervalometer.Settings.Faults;

namespace Intervalometer.Drivers.Composition;

/// <summary>
/// Keeps the note of fatal errors over a restart in the alarm registers of the clock chip, which the box does not use otherwise.
/// The device and the virtual board can both write them, the chip's cell keeps them without power, and they need no write cycle.
/// </summary>
/// <remarks>
/// A chip that does not answer keeps nothing. Restarts can then not be counted, so the first fatal error ends in the safe
/// state. The class keeps no buffer, because it is used only at the start, after a fatal error, and once when the box has run well.
/// </remarks>
public sealed class FaultWatch
{
    private readonly ITwoWireDevice? _chip;

    /// <summary>Creates the watch on the clock chip, or without one.</summary>
    public FaultWatch(ITwoWireDevice? chip) => _chip = chip;

    /// <summary>The note.</summary>
    public FaultNote Note { get; } = new FaultNote();

    /// <summary>Reads the note that an earlier start left. Never throws. When the chip does not answer or is new, there is no note.</summary>
    public void Read()
    {
        try
        {
            byte[] held = new byte[FaultNote.Size];
            if (_chip != null && _chip.WriteRead(new byte[] { Ds3231Registers.Alarm1Seconds }, held)) Note.Take(held);
        }
        catch
        {
            // Whatever failed here fails again where it is needed, and is reported there.
        }
    }

    /// <summary>Notes a fatal error. Returns true when the note is kept and the board may restart, false when it must stay down. Never throws.</summary>
    public bool Keep(FaultKind kind, FaultPlace place)
    {
        Note.Happened(kind, place);
        return Write();
    }

    /// <summary>Writes the note and reads it back. Returns false when the chip does not hold it. Never throws.</summary>
    public bool Write()
    {
        if (_chip == null) return false;
        try
        {
            byte[] message = new byte[1 + FaultNote.Size];
            message[0] = Ds3231Registers.Alarm1Seconds;
            Note.Put(message, 1);
            if (!_chip.Write(message)) return false;
            byte[] held = new byte[FaultNote.Size];
            if (!_chip.WriteRead(new byte[] { Ds3231Registers.Alarm1Seconds }, held)) return false;
            for (int i = 0; i < FaultNote.Size; i++)
            {
                if (held[i] != message[1 + i]) return false;
            }
            return true;
        }
        catch
        {
            return false;
        }
    }
}
