using Intervalometer.Coast.Time;
using Intervalometer.Core.Numerics;

namespace Intervalometer.Coast.Tide;

/// <summary>
/// How a printed table is fitted to a sum of constituents. For each printed turn the sum's own turn is found. Between two of them the sum's
/// rise and fall is moved and stretched so that it begins and ends where the table does.
/// </summary>
/// <remarks>
/// Between two turns time is stretched evenly. The height is that of the sum times a factor of 0.5 to 2, plus the remaining difference at
/// both ends, shared out evenly in time. The factor is the printed rise over that of the sum. It is 1 where the sum hardly rises, because
/// there the printed tenths say nothing about it. So a stand or a small double high water, which a table does not print, is where the sum has it.
/// </remarks>
internal sealed class TideLikeness
{
    // The tide of a neighbouring port may come up to two hours sooner or later.
    private const int WithinSeconds = 7_200;
    private const double SmallRiseMetres = 0.3;

    private readonly PrintedTide _table;
    private readonly HarmonicTide _sum;
    private readonly long[] _seconds;
    private readonly double[] _metres;
    private int _next;
    private bool _failed;

    internal TideLikeness(PrintedTide table, HarmonicTide sum)
    {
        _table = table;
        _sum = sum;
        _seconds = new long[table.Count];
        _metres = new double[table.Count];
    }

    internal HarmonicTide Sum => _sum;

    internal double WalkErrorMetres => 2 * _sum.WalkErrorMetres;

    internal bool Done => _failed || _next >= _seconds.Length;

    internal bool Found => !_failed && _next >= _seconds.Length && _next >= 2;

    // Finds one turn. Its time after the one before must be at least a quarter of the time that the table has between the two.
    internal void Step()
    {
        TideTurn printed = _table[_next];
        if (!_sum.TryTurnNear(printed.Time, WithinSeconds, printed.IsHigh, out TideTurn own)
            || _next > 0 && (own.Time.Seconds - _seconds[_next - 1]) * 4 < printed.Time.SecondsSince(_table[_next - 1].Time))
        {
            _failed = true;
        }
        else
        {
            _seconds[_next] = own.Time.Seconds;
            _metres[_next] = own.HeightMetres;
            _next++;
        }
        if (Done) _sum.LetSearcherGo();
    }

    internal double HeightMetres(int turn, long seconds) => Height(turn, seconds, _sum.HeightMetres(new UtcInstant(Own(turn, seconds))));

    internal double RateMetresPerHour(int turn, long seconds) => Rate(turn, _sum.RateMetresPerHour(new UtcInstant(Own(turn, seconds))));

    /// <summary>The sum's time that corresponds to a time between a printed turn and the next.</summary>
    internal long Own(int turn, long seconds) => _seconds[turn] + Elementary.Round(Part(turn, seconds) * (_seconds[turn + 1] - _seconds[turn]));

    /// <summary>The table's height that corresponds to a height of the sum.</summary>
    internal double Height(int turn, long seconds, double own)
    {
        double factor = Factor(turn);
        return _table[turn].HeightMetres + factor * (own - _metres[turn]) + Part(turn, seconds) * Rest(turn, factor);
    }

    /// <summary>The table's rate in metres an hour that corresponds to a rate of the sum.</summary>
    internal double Rate(int turn, double own)
    {
        double factor = Factor(turn);
        double span = _table[turn + 1].Time.SecondsSince(_table[turn].Time);
        return span <= 0 ? 0 : factor * own * (_seconds[turn + 1] - _seconds[turn]) / span + Rest(turn, factor) * 3600.0 / span;
    }

    private double Part(int turn, long seconds)
    {
        long from = _table[turn].Time.Seconds;
        double span = _table[turn + 1].Time.Seconds - from;
        return span <= 0 ? 0 : (seconds - from) / span;
    }

    private double Factor(int turn)
    {
        double own = _metres[turn + 1] - _metres[turn];
        if (own > -SmallRiseMetres && own < SmallRiseMetres) return 1;
        return Elementary.Clamp((_table[turn + 1].HeightMetres - _table[turn].HeightMetres) / own, 0.5, 2.0);
    }

    private double Rest(int turn, double factor) =>
        _table[turn + 1].HeightMetres - _table[turn].HeightMetres - factor * (_metres[turn + 1] - _metres[turn]);
}

/// <summary>Walks a printed table whose shape comes from a sum, by means of a walker over that sum.</summary>
internal sealed class LikenessWalker : TideWalker
{
    private readonly PrintedTide _table;
    private readonly TideLikeness _like;
    private readonly HarmonicWalker _own;
    private long _seconds;
    private int _stepSeconds = 600;
    private long _ownSeconds = long.MaxValue;
    private double _height;
    private double _rate;

    internal LikenessWalker(PrintedTide table, TideLikeness like)
    {
        _table = table;
        _like = like;
        _own = (HarmonicWalker)like.Sum.CreateWalker();
    }

    public override bool IsSlow => _own.IsSlow;

    public override int BytesToCome => _own.BytesToCome;

    public override UtcInstant Time => new UtcInstant(_seconds);

    public override double HeightMetres => _height;

    public override double RateMetresPerHour => _rate;

    public override void Start(UtcInstant time, int stepSeconds)
    {
        _seconds = time.Seconds;
        _stepSeconds = Elementary.Clamp(stepSeconds, 1, 3600);
        _ownSeconds = long.MaxValue;
        Read();
    }

    public override void Advance()
    {
        _seconds += _stepSeconds;
        Read();
    }

    private void Read()
    {
        UtcInstant time = new UtcInstant(_seconds);
        int turn = _table.Segment(time);
        if (turn < 0 || !_like.Found)
        {
            _height = _table.HeightMetres(time);
            _rate = _table.RateMetresPerHour(time);
            return;
        }
        long own = _like.Own(turn, _seconds);
        // Over a long way a new start is cheaper than going on.
        if (own < _ownSeconds || own - _ownSeconds > 7_200) _own.Start(new UtcInstant(own), 1);
        else _own.MoveTo(own);
        _ownSeconds = own;
        _height = _like.Height(turn, _seconds, _own.HeightMetres);
        _rate = _like.Rate(turn, _own.RateMetresPerHour);
    }
}
