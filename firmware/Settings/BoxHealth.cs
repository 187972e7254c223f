using Intervalometer.Core.Release;
using Intervalometer.Settings.Faults;

namespace Intervalometer.Settings;

/// <summary>What is wrong with the memory.</summary>
public enum MemoryTrouble
{
    /// <summary>Nothing is wrong, or no memory is fitted.</summary>
    None = 0,

    /// <summary>It does not answer.</summary>
    Silent = 1,

    /// <summary>Its contents cannot be read, and are left as they are.</summary>
    Damaged = 2,

    /// <summary>Its contents were written by a later firmware, and are left as they are.</summary>
    Newer = 3,

    /// <summary>It did not store what was written to it.</summary>
    Refuses = 4,

    /// <summary>A loss of power cut the last save off, and the one before it is in use.</summary>
    CutOff = 5,

    /// <summary>Many of its pages no longer store what is written to them. Everything is still kept.</summary>
    Worn = 6,
}

/// <summary>What has failed in the box and what still works, in words for a person. Only the panel thread writes it.</summary>
public sealed class BoxHealth
{
    private const int Kinds = 10;
    private const long WordsUs = 4_000_000;

    /// <summary>What is wrong with the memory.</summary>
    public MemoryTrouble Memory { get; set; }

    /// <summary>True when the box has a memory for settings and frames.</summary>
    public bool MemoryFitted { get; set; }

    /// <summary>Creates the state of a box in which nothing has failed.</summary>
    /// <param name="spare">The list of the parts that are given up when the heap runs short.</param>
    public BoxHealth(SpareParts? spare = null) => Spare = spare ?? new SpareParts();

    /// <summary>The parts that were given up because the heap ran short.</summary>
    public SpareParts Spare { get; }

    /// <summary>The last fatal error.</summary>
    public FaultNote Fault { get; set; } = new FaultNote();

    /// <summary>The state of the battery.</summary>
    public BatteryWatch Battery { get; } = new BatteryWatch();

    /// <summary>The button that has been down for far longer than a hand holds it; -1 when there is none.</summary>
    public int StuckButton { get; set; } = -1;

    /// <summary>What is wrong with the limiter of the contacts, or with their lines.</summary>
    public LimiterTrouble Limiter { get; set; }

    /// <summary>How many errors the screens and the other parts beside the release have had since power-on. The release lines are not affected by them.</summary>
    public int ScreenFaults { get; private set; }

    /// <summary>The part in which the last of these errors happened.</summary>
    public FaultPlace FailedPart { get; private set; }

    /// <summary>The message of the last of these errors, for the BENCH card; empty when there was none.</summary>
    public string LastScreenFault { get; private set; } = "";

    /// <summary>How many times the display came back after it had not answered.</summary>
    public int DisplayReturns { get; set; }

    /// <summary>True when the bus is so slow that sending a page to the display would block the runtime for too long during a run.</summary>
    public bool BusSlow { get; set; }

    /// <summary>True when the person has asked to overwrite the contents of a damaged memory.</summary>
    public bool StartAfresh { get; set; }

    /// <summary>True when the memory is not written to, so that contents which this firmware cannot read are not lost.</summary>
    public bool MemoryHeld => Memory == MemoryTrouble.Damaged || Memory == MemoryTrouble.Newer;

    /// <summary>True when the memory stores nothing at present.</summary>
    public bool MemoryKeepsNothing => Memory != MemoryTrouble.None && Memory != MemoryTrouble.CutOff && Memory != MemoryTrouble.Worn;

    /// <summary>How many frames since power-on are not in the logbook and, as things stand, will never be.</summary>
    public int FramesNotKept { get; set; }

    /// <summary>True when there is something to report.</summary>
    public bool Any => AnyOther || Battery.Troubles;

    /// <summary>True when there is something to report besides the battery.</summary>
    public bool AnyOther => Memory != MemoryTrouble.None || StuckButton >= 0 || Limiter != LimiterTrouble.None || ScreenFaults > 0 || BusSlow || DisplayReturns > 0
        || Fault.Times > 0 || Spare.GivenUp > 0 || FramesNotKept > 0;

    /// <summary>Notes an error of a part beside the release.</summary>
    public void PartFailed(FaultPlace part, string message)
    {
        ScreenFaults++;
        FailedPart = part;
        LastScreenFault = message;
    }

    /// <summary>What failed, in words. When several things did, each is shown for some seconds. Empty when nothing did.</summary>
    public string Failed(long nowUs) => FailedWords(Pick(nowUs));

    /// <summary>What still works in spite of that failure. Empty when nothing failed.</summary>
    public string Works(long nowUs) => WorksWords(Pick(nowUs));

    private bool Has(int kind) => kind switch
    {
        0 => StuckButton >= 0,
        1 => Memory != MemoryTrouble.None,
        2 => ScreenFaults > 0,
        3 => Battery.Troubles,
        4 => BusSlow,
        5 => DisplayReturns > 0,
        6 => Fault.Times > 0,
        7 => Spare.GivenUp > 0,
        9 => Limiter != LimiterTrouble.None,
        _ => FramesNotKept > 0,
    };

    private int Pick(long nowUs)
    {
        int count = 0;
        for (int i = 0; i < Kinds; i++)
        {
            if (Has(i)) count++;
        }
        if (count == 0) return -1;
        int place = (int)(nowUs / WordsUs % count);
        for (int i = 0; i < Kinds; i++)
        {
            if (!Has(i)) continue;
            if (place == 0) return i;
            place--;
        }
        return -1;
    }

    private string FailedWords(int kind) => kind switch
    {
        0 => ButtonName(StuckButton) + " button is stuck",
        1 => MemoryFailed,
        2 => (FailedPart == FaultPlace.Screen ? "a " : "the ") + FaultNote.PlaceWords(FailedPart) + " failed",
        3 => (Battery.Refuses ? "battery empty, " : "battery low, ") + Battery.Volts,
        4 => "display wiring is slow",
        5 => "display was lost a while",
        6 => Fault.Words,
        7 => Spare.Words,
        9 => LimiterFailed,
        8 => FramesNotKept == 1 ? "1 frame not in logbook" : FramesNotKept.ToString() + " frames not in logbook",
        _ => "",
    };

    private string WorksWords(int kind) => kind switch
    {
        0 => StuckButton == (int)Button.Fire ? "Back held stops a run" : "Fire stops a run",
        1 => MemoryWorks,
        2 => "runs and buttons go on",
        3 => Battery.Refuses ? "no new run: charge it" : "runs start; charge it soon",
        4 => "runs go on, picture stands",
        5 => "runs went on meanwhile",
        6 => Fault.Times == 1 ? "a fault: restarted once" : "faults: restarted " + Fault.Times.ToString() + " times",
        7 => SpareParts.Works,
        8 => "the camera took them",
        9 => LimiterWorks,
        _ => "",
    };

    /// <summary>What is wrong with the limiter, in words; <see cref="Limiter"/> must not be none.</summary>
    public string LimiterFailed => Limiter switch
    {
        LimiterTrouble.StaysOn => "limiter never lets go",
        LimiterTrouble.StaysOff => "limiter does not come up",
        LimiterTrouble.HalfPressStuck => "half-press line is stuck",
        LimiterTrouble.ShutterStuck => "shutter line is stuck",
        LimiterTrouble.HalfPressDead => "half-press line is dead",
        _ => "shutter line is dead",
    };

    /// <summary>What still works when the limiter has failed.</summary>
    public const string LimiterWorks = "no run starts, cards work";

    /// <summary>What is wrong with the memory, in words; <see cref="Memory"/> must not be none.</summary>
    public string MemoryFailed => Memory switch
    {
        MemoryTrouble.Silent => "memory does not answer",
        MemoryTrouble.Damaged => "memory is unreadable",
        MemoryTrouble.Newer => "memory of later firmware",
        MemoryTrouble.Refuses => "memory takes no writes",
        MemoryTrouble.Worn => "memory chip wears out",
        _ => "last save was cut off",
    };

    /// <summary>What still works in spite of the memory's trouble.</summary>
    public string MemoryWorks => Memory switch
    {
        MemoryTrouble.Silent => "box works, nothing is kept",
        MemoryTrouble.Damaged => "box works, memory untouched",
        MemoryTrouble.Newer => "box works, memory untouched",
        MemoryTrouble.Refuses => "box works, nothing is kept",
        MemoryTrouble.Worn => "all is kept; replace it soon",
        _ => "the one before is in use",
    };

    /// <summary>The name of a button.</summary>
    /// <param name="button">Its number in the order of <see cref="Button"/>.</param>
    public static string ButtonName(int button) => button switch
    {
        (int)Button.Up => "Up",
        (int)Button.Down => "Down",
        (int)Button.Back => "Back",
        (int)Button.Select => "Select",
        (int)Button.Mark => "Mark",
        _ => "Fire",
    };
}
