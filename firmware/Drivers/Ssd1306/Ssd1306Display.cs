using Intervalometer.Screens;

namespace Intervalometer.Drivers.Ssd1306;

/// <summary>
/// A 128 x 64 display with an SSD1309 or SSD1306. It is written page by page, so that no call occupies the bus for longer than one page:
/// 135 bytes and the address, about 3.1 ms at 400 kHz (9 clocks a byte). It allocates at construction only.
/// </summary>
/// <remarks>
/// A missing acknowledge never throws. It leads to <see cref="Ssd1306State.NoAnswer"/>, and the next call of
/// <see cref="SendNextChangedPage"/> sets the chip up again and sends every page again. So a display whose plug was loose
/// comes back by itself, with its contrast and inversion.
/// </remarks>
public sealed class Ssd1306Display
{
    /// <summary>The chip's address on the bus with its SA0 pin low (0x3D when high): data sheet section 8.1.5.</summary>
    public const int Address = 0x3C;

    /// <summary>The contrast after construction, which is the chip's own reset value.</summary>
    public const byte ResetContrast = 0x7F;

    private readonly ITwoWireDevice _bus;
    private readonly byte[] _initialisation;
    private readonly byte[] _page = Ssd1306Commands.PageMessage();
    private readonly byte[] _contrast = Ssd1306Commands.Single(Ssd1306Commands.SetContrast, ResetContrast);
    private readonly byte[] _single = Ssd1306Commands.Single(Ssd1306Commands.SetDisplayOff);

    private Frame? _frame;
    private int _next;
    private bool _on = true;

    /// <summary>Creates the driver. Sends nothing yet.</summary>
    public Ssd1306Display(ITwoWireDevice bus, DisplayKind kind)
    {
        _bus = bus;
        _initialisation = Ssd1306Commands.Initialisation(ResetContrast, kind);
    }

    /// <summary>What is known of the display.</summary>
    public Ssd1306State State { get; private set; } = Ssd1306State.NotInitialised;

    /// <summary>How many messages since construction were not acknowledged.</summary>
    public int Failures { get; private set; }

    /// <summary>Sets the chip up, dark until a first whole picture has been sent. Returns false, with <see cref="Ssd1306State.NoAnswer"/>, when the chip does not acknowledge.</summary>
    public bool Initialise()
    {
        _frame = null;
        _next = 0;
        return Send(_initialisation, Ssd1306State.Filling);
    }

    /// <summary>
    /// Sends at most one page: in turn, the next one that differs from what the display holds. After the last page of a
    /// first picture it sends the command that lights the display instead. When needed it sets the chip up first.
    /// </summary>
    /// <returns>True when something was sent and acknowledged; false when nothing had changed or nothing answered (see <see cref="State"/>).</returns>
    public bool SendNextChangedPage(Frame frame)
    {
        if (State == Ssd1306State.NotInitialised || State == Ssd1306State.NoAnswer)
        {
            if (!Initialise()) return false;
        }
        if (_frame != frame)
        {
            frame.ForgetSent();
            _frame = frame;
        }
        for (int i = 0; i < Frame.Pages; i++)
        {
            int page = (_next + i) & (Frame.Pages - 1);
            if (!frame.PageChanged(page)) continue;
            _page[Ssd1306Commands.PageMessagePage] = (byte)(Ssd1306Commands.SetPageStart | page);
            frame.CopyPage(page, _page, Ssd1306Commands.PageMessageData);
            if (!Send(_page, State)) return false;
            frame.MarkSent(page);
            _next = page + 1;
            return true;
        }
        if (State != Ssd1306State.Filling) return false;
        if (!_on)
        {
            State = Ssd1306State.Ready;
            return false;
        }
        return SendSingle(Ssd1306Commands.SetDisplayOn, Ssd1306State.Ready);
    }

    /// <summary>Sets the current through lit pixels, 0..255, which also holds when the chip is set up again. Returns false when it was not acknowledged.</summary>
    public bool SetContrast(byte contrast)
    {
        _initialisation[Ssd1306Commands.InitialisationContrast] = contrast;
        _contrast[2] = contrast;
        return !Answers || Send(_contrast, State);
    }

    /// <summary>Lights the display. While its first picture is still being sent, it lights up after that. Returns false when it was not acknowledged.</summary>
    public bool On()
    {
        _on = true;
        return State != Ssd1306State.Ready || SendSingle(Ssd1306Commands.SetDisplayOn, State);
    }

    /// <summary>Puts the display to sleep; its memory is kept. Returns false when it was not acknowledged.</summary>
    public bool Off()
    {
        _on = false;
        return State != Ssd1306State.Ready || SendSingle(Ssd1306Commands.SetDisplayOff, State);
    }

    /// <summary>Shows dark pixels as lit and lit ones as dark, or not; this also holds when the chip is set up again. Returns false when it was not acknowledged.</summary>
    public bool Invert(bool inverse)
    {
        byte command = inverse ? Ssd1306Commands.SetInverseDisplay : Ssd1306Commands.SetNormalDisplay;
        _initialisation[Ssd1306Commands.InitialisationInverse] = command;
        return !Answers || SendSingle(command, State);
    }

    private bool Answers => State == Ssd1306State.Filling || State == Ssd1306State.Ready;

    private bool SendSingle(byte command, Ssd1306State after)
    {
        _single[1] = command;
        return Send(_single, after);
    }

    private bool Send(byte[] message, Ssd1306State after)
    {
        if (_bus.Write(message))
        {
            State = after;
            return true;
        }
        State = Ssd1306State.NoAnswer;
        Failures++;
        return false;
    }
}
