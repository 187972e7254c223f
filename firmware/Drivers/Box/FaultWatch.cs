using Intervalometer.Drivers.Ds3231;
using Intervalometer.Settings.Faults;

namespace Intervalometer.Drivers.Box;

/// <summary>
/// Keeps the note of fatal errors over a restart, in the alarm registers of the clock chip, which the box does not use otherwise.
/// Both boards can drive them, its cell keeps them without power, and they need no write cycle.
/// </summary>
/// <remarks>
/// A chip that does not answer keeps nothing. Restarts can then not be counted, so that the first fatal error ends in the safe
/// state. Keeps no buffer: it is used at the start, after a fatal error and once after a good run.
/// </remarks>
public sealed class FaultWatch
{
    private readonly ITwoWireDevice? _chip;

    /// <summary>On the clock chip, or without one.</summary>
    public FaultWatch(ITwoWireDevice? chip) => _chip = chip;

    /// <summary>The note.</summary>
    public FaultNote Note { get; } = new FaultNote();

    /// <summary>Reads what an earlier start left. Never throws; without an answer, or in a new chip, there is nothing.</summary>
    public void Read()
    {
        try
        {
            byte[] held = new byte[FaultNote.Size];
            if (_chip != null && _chip.WriteRead(new byte[] { Ds3231Registers.Alarm1Seconds }, held)) Note.Take(held);
        }
        catch
        {
            // What failed here will fail again where it is needed, and is told there.
        }
    }

    /// <summary>A fatal error happened. True when that is kept and the board may restart; false when it must stay down. Never throws.</summary>
    public bool Keep(FaultKind kind, FaultPlace place)
    {
        Note.Happened(kind, place);
        return Write();
    }

    /// <summary>Writes the note and reads it back. False when the chip does not hold it. Never throws.</summary>
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
