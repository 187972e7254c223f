using Intervalometer.Core.Link;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Screens.Cards;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Nav;

/// <summary>
/// The screens, and what the buttons do on them. Up and Down go round a ring of cards, and on while they are held. Select opens a card and goes
/// through its fields, which Up and Down change, faster while held. Back goes out one level and, when held, home to the first card. There it
/// turns to the ring of the shore, and from there home again. Select held opens what follows: from LIGHT the filters, from the list the filter under
/// the cursor; on WAVES it takes the recommended way; held still longer, from the filters, it opens the stacks. Fire starts what the card shows and
/// stops any run; at the end of a run it only closes the screen. Mark marks a wave, except in the drill and on a locked box. The way-back alarm covers every card; any button
/// except one that stops a run silences it and does nothing else.
/// </summary>
public sealed partial class FrontPanel
{
    private const int NoField = FieldList.None;
    private const int SignColumns = 28;

    // A held button goes to the next card after this many repeats: three take 0.36 s.
    private const int RepeatsOfACard = 3;

    // The column of the sign of trouble, left of the dashes of the ring.
    private const int SignX = 44;

    private readonly BoxSettings _settings;
    private readonly RunLink _link;
    private readonly KeyTimer _keys = new KeyTimer();
    private readonly RunScreen _runScreen;
    private readonly Notice _notice = new Notice();
    private readonly FieldList _fields = new FieldList();
    private readonly LightCard _light;
    private readonly GlassCard _glass;
    private readonly FilterCard _filter;
    private readonly WavesCard _waves;
    private readonly BoxCard _box;
    private readonly TakenCard _taken;
    private readonly WantedCard _wanted;
    private readonly PlaceNameCard _placeName;
    private readonly Card[] _cards;
    private readonly Card[] _shoreCards;
    private readonly ShoreDesk _shore;
    private readonly AlarmScreen _alarm;
    private int _card;
    private int _field = NoField;
    // The card that covers the ring: a filter, the stacks, the frames taken, the bench check, the drill or the name of the place; null when there is none.
    private Card? _over;
    private bool _onShore;
    private BatteryState _toldBattery;
    private LimiterTrouble _toldLimiter;
    private int _drawnVersion;
    private bool _dirty = true;
    private long _drawnUs;
    private RunState _drawnState;

    /// <summary>Creates the panel, which shows the first card.</summary>
    public FrontPanel(BoxSettings settings, RunLink link, ShoreDesk shore)
    {
        _shore = shore;
        _alarm = new AlarmScreen(shore);
        _settings = settings;
        _display = new DisplayLight(settings);
        _lock = new KeyLock(settings);
        _link = link;
        Health = new BoxHealth(shore.Spare);
        Check = new StartCheck(Health, shore.Clock);
        _runScreen = new RunScreen(link, settings, Health, shore.Dawn.Sensor);
        _light = new LightCard(settings, shore);
        _glass = new GlassCard(settings);
        _stacks = new StacksCard(settings);
        _filter = new FilterCard(settings);
        _waves = new WavesCard(settings, link);
        _again = new AgainScreen(settings, _light);
        _taken = new TakenCard(link, shore, Earlier);
        _wanted = new WantedCard(settings, link.Sea);
        _placeName = new PlaceNameCard(shore.Settings);
        _box = new BoxCard(settings, Health);
        _bench = new BenchCard(settings, Health, link, shore);
        _hand = new HandCard(settings);
        _cards = new Card[]
        {
            _light,
            _glass,
            new FramesCard(settings, shore),
            _waves,
            new DepthCard(settings),
            _wanted,
            new CameraCard(settings),
            _box,
        };
        _shoreCards = new Card[]
        {
            new TideCard(shore),
            new PathCard(shore),
            new SunCard(shore),
            new MorningsCard(shore),
            new PlaceCard(shore),
        };
    }

    /// <summary>What has failed and what still works, which the BOX card shows.</summary>
    public BoxHealth Health { get; }

    /// <summary>What was found at power-on.</summary>
    public StartCheck Check { get; }

    /// <summary>The name of the screen that is shown, for tests and reports.</summary>
    public string ScreenName => AlarmOverCards ? "ALARM" : _lock.Tells ? "LOCKED" : Check.Shown ? "START CHECK" : _notice.Shown ? "NOTICE" : _link.State != RunState.Ready ? "RUN" : _again.Shown ? "AGAIN" : Shown.Name;

    /// <summary>The field that is being changed; -1 on an overview.</summary>
    public int Field => _field;

    private Card[] Ring => _onShore ? _shoreCards : _cards;

    private Card Shown => _over ?? Ring[_card];

    private bool InGlassList => Shown == _glass;

    private bool AlarmOverCards => _shore.AlarmUp && _link.State == RunState.Ready;

    /// <summary>Takes an event of the buttons that the release thread has already handled.</summary>
    /// <param name="code">The button and the bits of <see cref="PressRing"/>.</param>
    /// <param name="atUs">When, µs.</param>
    public void OnEvent(int code, long atUs)
    {
        if ((code & PressRing.Started) != 0) OnStarted(atUs);
        else OnButton((Button)(code & PressRing.ButtonBits), (code & PressRing.Down) != 0, (code & PressRing.Spent) != 0, atUs);
    }

    /// <summary>Handles a button that went down or came up.</summary>
    /// <param name="button">The button.</param>
    /// <param name="down">True when it went down.</param>
    /// <param name="spent">True when the press has already done its work, such as stopping a run, and must do nothing more.</param>
    /// <param name="atUs">When it happened, µs.</param>
    private void OnButton(Button button, bool down, bool spent, long atUs)
    {
        _dirty = true;
        _preparedUs = long.MinValue / 2;
        bool unseen = down && _display.Touched(atUs);
        if (down) Check.End();
        if (LockTakes(button, down, atUs) || BenchTakes(button, down)) return;
        if (!down)
        {
            bool shortPress = _keys.Up(button);
            if (shortPress && button == Button.Select && !_link.Report.Running) OnSelect();
            return;
        }
        if (button == Button.Select || button == Button.Back) _asked = NoField;
        // Select acts when it comes up. Another button that goes down before that shows that Select was meant first.
        if (!spent && !_link.Report.Running && button != Button.Select && _keys.Cut(Button.Select)) OnSelect();
        // A press that stopped a run does nothing else, and the alarm stays up to be read. A mark times its wave and silences the alarm as well.
        if (spent && button != Button.Mark) return;
        if (_shore.AlarmUp)
        {
            _shore.Acknowledge(atUs);
            if (button == Button.Fire) _link.Decline();
            return;
        }
        if (spent) return;
        if (button == Button.Fire && !_link.WaitsForLast) return;
        if (!unseen) WipeRead(atUs);
        if (_link.Report.Running) return;
        if (button == Button.Mark && _over == _hand) _hand.Press(atUs);
        else if (button == Button.Mark) TellMark(atUs);
        if (_notice.Shown)
        {
            _notice.Hide();
            if (!_notice.Passing)
            {
                if (button == Button.Fire) _link.Decline();
                return;
            }
        }
        if (_link.State != RunState.Ready)
        {
            _link.Acknowledge();
            // The screen at the end of the run has said that the battery is empty.
            if (Health.Battery.Refuses) _toldBattery = BatteryState.Empty;
            // Fire must not start what nobody meant, and Back has closed this screen. The other buttons do their own work as well.
            if (button == Button.Fire) _link.Decline();
            if (button == Button.Fire || button == Button.Back || OpensAgain(button)) return;
        }
        if (button != Button.Mark && button != Button.Fire) _keys.Down(button, atUs);
        if (button == Button.Fire) OnFire();
        else if (button == Button.Back) OnBack();
        else if (button == Button.Up) OnUpDown(1, 0);
        else if (button == Button.Down) OnUpDown(-1, 0);
    }

    /// <summary>Makes repeats and holds, and updates what changes with time. Call it in every pass of the panel thread.</summary>
    public void Tick(long nowUs)
    {
        if (Check.Pass(nowUs)) _dirty = true;
        LockPass(nowUs);
        LightPass(nowUs);
        StripPass(nowUs);
        AgainPass(nowUs);
        StacksPass();
        TellBattery();
        HandPass(nowUs);
        if (Shown == _wanted && !_link.Busy && _wanted.Think()) _dirty = true;
        _waves.Think(_link.State == RunState.Ready && Shown == _waves);
        if (_fireAwaits) TryFireAgain();
        int up = _keys.Repeat(Button.Up, nowUs);
        int down = _keys.Repeat(Button.Down, nowUs);
        int repeats = up > 0 ? up : down;
        // While a button is held, the cards go by slowly enough to be read.
        if (repeats > 0 && (_field != NoField || _again.Shown || repeats % RepeatsOfACard == 0) && !_link.Busy)
        {
            OnUpDown(up > 0 ? 1 : -1, repeats);
            _dirty = true;
        }
        if (_keys.Hold(Button.Back, nowUs) && !_link.Busy)
        {
            GoHome();
            _dirty = true;
        }
        if (_keys.Hold(Button.Select, nowUs) && !_link.Busy)
        {
            OnSelectHeld(nowUs);
            _dirty = true;
        }
        if (_keys.HoldOn(Button.Select, nowUs) && !_link.Busy && (InGlassList || _over == _filter))
        {
            OpenStacks();
            _dirty = true;
        }
    }

    /// <summary>True when the picture should be drawn again.</summary>
    public bool NeedsDraw(long nowUs)
    {
        if (_display.IsDark) return false;
        RunState state = _link.State;
        if (_dirty || state != _drawnState || _shore.Version != _drawnVersion) return true;
        if (_shore.AlarmUp && nowUs - _drawnUs >= AlarmScreen.RedrawUs) return true;
        long every = state != RunState.Ready ? (_runScreen.Moves(nowUs) ? RunScreen.RedrawUs : 0) : Shown.RedrawUs;
        return every > 0 && nowUs - _drawnUs >= every;
    }

    /// <summary>Draws the picture. Allocates nothing while a run is on.</summary>
    public void Draw(Frame frame, long nowUs)
    {
        _dirty = false;
        _drawnUs = nowUs;
        _drawnState = _link.State;
        _drawnVersion = _shore.Version;
        _wipeSeen = false;
        frame.Clear();
        if (AlarmOverCards) _alarm.Draw(frame, nowUs);
        else if (Check.Shown && _link.State == RunState.Ready) Check.Draw(frame, nowUs);
        else if (_notice.Shown) _notice.Draw(frame);
        else if (_link.State != RunState.Ready) DrawRun(frame, nowUs);
        else if (_again.Shown) _again.Draw(frame);
        else if (!DrawInstead(frame, nowUs)) DrawCard(frame, nowUs);
        DrawStrip(frame, nowUs);
        if (_lock.Locked) DrawLock(frame);
    }

    private void DrawRun(Frame frame, long nowUs)
    {
        _runScreen.Draw(frame, nowUs);
        if (_shore.AlarmUp) _alarm.Band(frame, nowUs);
    }

    private void DrawCard(Frame frame, long nowUs)
    {
        if (InGlassList)
        {
            CardPainter.Heading(frame, _glass.Heading, _card, Ring.Length);
            _glass.DrawList(frame, _field != NoField);
        }
        else if (_field == NoField)
        {
            bool trouble = Health.Any && Shown != _box;
            // Beside a long heading there is room for the sign of trouble or for the ring, and the sign comes first.
            bool tight = trouble && Font.Small.WidthOf(Shown.Name) + 4 > SignX;
            if (tight) frame.Text(LeftX, HeadingY, Shown.Name, Font.Small);
            else CardPainter.Heading(frame, Shown.Name, _card, Ring.Length);
            if (trouble) HealthSign(frame, tight ? Frame.Width - SignColumns : SignX, nowUs);
            else if (Shown == _light) HomeClock(frame);
            Shown.DrawOverview(frame, nowUs);
        }
        else if (AskField().OnOverview)
        {
            CardPainter.Title(frame, Shown.Name);
            CardPainter.Arrows(frame);
            Shown.DrawOverview(frame, nowUs);
        }
        else
        {
            if (_asking && _asked == _field) _fields.Note = "Sure? Then press again";
            else if (_undoField == _field) _fields.Note = "Held Select: as it was";
            string place = (_field + 1).ToString() + "/" + _fields.Count.ToString();
            CardPainter.Field(frame, Shown.Name, _fields, place, BottomLine());
        }
    }

    // A card may have lost fields since it was opened. Then its last field is shown.
    private FieldList AskField()
    {
        _fields.Ask(Shown, _field);
        if (_field >= _fields.Count)
        {
            _field = _fields.Count - 1;
            _fields.Ask(Shown, _field);
        }
        return _fields;
    }

    // While the light or a filter is being changed, the resulting exposure is shown.
    private string BottomLine()
    {
        if (_over == _filter || Shown == _light) return CardPainter.AnswerLine(_settings.Answer);
        return "Select: next   Back: done";
    }

    private void OnUpDown(int direction, int repeats)
    {
        if (_again.Shown)
        {
            _again.Step(direction);
            return;
        }
        if (_field != NoField)
        {
            ChangeField(direction, repeats);
            return;
        }
        if (_over != null)
        {
            if (_over == _taken) _taken.Step(direction);
            else if (_over == _stacks) _stacks.Step(direction);
            return;
        }
        _card -= direction;
        if (_card < 0) _card = Ring.Length - 1;
        if (_card >= Ring.Length) _card = 0;
    }

    private void OnSelect()
    {
        if (_again.Shown) return;
        if (InGlassList)
        {
            if (_field == NoField) _field = 0;
            else _glass.Choose();
            return;
        }
        if (BeginsAgain() || PutsStackOn()) return;
        LeaveField();
        _field++;
        if (_field >= _fields.CountOf(Shown)) _field = NoField;
    }

    // Select held is the short cut to what follows the present card.
    private void OnSelectHeld(long nowUs)
    {
        if (_again.Shown) return;
        if (PutsFieldBack()) return;
        if (InGlassList)
        {
            if (_field == NoField) OpenStacks();
            if (_over != null || _glass.OnAddRow) return;
            _filter.Show(_glass.Cursor);
            _over = _filter;
            _field = NoField;
        }
        else if (_over == _stacks) NameStack();
        else if (Shown == _waves)
        {
            if (_field == NoField) _waves.TakeAdvice(nowUs);
        }
        else if (Shown == _wanted) _wanted.Take();
        else if (Shown is FramesCard && _field == NoField) _over = _taken;
        else if (Shown == _box && _field == NoField) OpenBench(nowUs);
        else if (Shown is CameraCard && _field == NoField) BeginDrill();
        else if (Shown is PlaceCard && _field == NoField) _over = _placeName;
        else if (Shown == _light)
        {
            GoTo(_glass);
            _field = 0;
        }
    }

    // Goes to a card of the ring that is shown.
    private void GoTo(Card card)
    {
        for (int i = 0; i < Ring.Length; i++)
        {
            if (Ring[i] == card) _card = i;
        }
    }
}
