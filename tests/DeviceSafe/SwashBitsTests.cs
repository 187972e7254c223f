using Intervalometer.Core.Numerics;
using Intervalometer.Core.Swash;

namespace Intervalometer.Tests.DeviceSafe;

/// <summary>
/// What the box learns from one invented hour on a beach, to the last bit. A device that runs this shows that it forecasts as the
/// PC does, on which the study judges the forecasts. The values are Core's own on .NET 10 and say nothing about being right.
/// </summary>
[TestClass]
public class SwashBitsTests
{
    // The times from mark to mark, ms. Some waves are left out, and there are a pause and a double press.
    private static readonly int[] Gaps =
    {
        9200, 10400, 8100, 11900, 9900, 20300, 7600, 10800, 9300, 12400, 8800, 10100,
        31000, 9700, 11200, 8300, 100000, 9900, 10500, 6900, 1000, 12700, 9000,
    };

    // The times from arrival to turn, ms. One is too long to be believed, and one is too short to be a turn.
    private static readonly int[] Delays = { 2800, 3400, 2500, 3900, 3000, 65000, 2200, 200, 3100, 2900 };

    private static readonly double[] Expected =
    {
        9.79235841028195, 2.2025970123690346, 3.2641194700939837, 0.979235841028195, 32392358, 2.5456796450393364, 33774418,
        0.4553714864172246, 0.42546437606195864, 42184717, 4.027290928512169, 44296013, 0.20205180281613414, 0.24423070867190477,
        51977075, 5.405160691702554, 54817607, 0.12876156448910295, 0.22354448157183204, 9.895399819374004, 2.247985470234336,
        3.2984666064580015, 0.9895399819374004, 52495400, 2.4683840086814546, 53894633, 0.41981287781921894, 0.39688317004307444,
        62390800, 3.776877163542381, 64529573, 0.21499922911173958, 0.25352567638334783, 72286199, 4.951327547488737, 75164512,
        0.13989355375119206, 0.22878955956532981, 9.791234569270385, 1.9781306650703858, 3.0799999237060547, 0.7544428220890951,
        100991235, 2.081825530940221, 102281235, 0.42065319041943394, 0.37963718360974896, 110782469, 3.083826893474164, 111822469,
        0.2251875979894418, 0.26580160187467006, 120573704, 3.9405548217122854, 122342827, 0.13895744585115324, 0.22623380239929486,
        9.950320369590177, 1.7660073080917589, 3.296666701634725, 0.7180402120242542, 201950320, 1.8173215278000108, 203348653,
        0.5045771021840445, 0.46561854509746275, 211900641, 2.6406564557235495, 213048974, 0.2943107812710133, 0.32706554284061784,
        221850961, 3.318316884392942, 222749294, 0.1837714953012365, 0.27289766180122865, 9.949632876002067, 1.932182740225138,
        3.4050000309944153, 0.6891328548634996, 351949633, 1.980258920059804, 353402133, 0.509968553996168, 0.4739729739315649,
        361899266, 2.8668870362568932, 363101766, 0.2904362771319423, 0.3192238423466403, 371848899, 3.590661173731691, 373796362,
        0.18840947580461306, 0.27046677871930735, 2.400833338499069, 0.2, 0.20454874044003168, 0.3489332442972618,
        0.5923378280349981, 0.8682672566632881, 1,

        2.8, 0.56, -1, 0, -1, 0, 3.10379746835443, 0.5682663399901751, 27993797, 0.6227652119210427, 28419441, 0.5056927136583975,
        2.8974150822473828, 0.5744166967899579, 37667415, 0.6209969388593906, 37703775, 0.04643028990088915, 3.157658815942634,
        0.6545925107881465, 48897659, 0.7007297331074824, 49698919, 0.7354393151118125, 3.124510559921273, 0.6135559135310835,
        58624511, 0.6519098929999689, 59063010, 0.5104815431310219, 3.124510559921273, 0.6135559135310835, 130074511,
        0.6519098929999689, 130178803, 0.13007386877709584, 2.9605108056701313, 0.6571328381704229, 138250511, 0.6941317997904776,
        139067950, 0.7672156354136747, 2.9605108056701313, 0.6571328381704229, 144280511, 0.6941317997904776, 144726387,
        0.48323119865645187, 2.9819827844512385, 0.6232173281151892, 152921983, 0.6552097411481025, 152994970, 0.09604473164915998,
        2.970804220100894, 0.5928451049281535, 161020804, 0.6208672437839019, 161809665, 0.9167847066552406, 0, 0, 0, 0,
        0.30687628268649386, -1, 0, 0, 0, 0, 0.24437628268649386, -1, 0, 0, 0, 0, 0.3637525653729877, -1, 7.943526685633048e-07,
        1.33540973273597e-05, 0.00015914571366921159, 0.0013499672222351906, 0.008197528862314594, 0.03593026547734281,
        0.11506973158210589, 0.27425306456974896, 0.5000000005248086, 0.725746935430251, 0.8849302684178941, 0.9640697345226572,
        0.9918024711376854, 0.9986500327777648, 0.9998408542863307, 0.9999866459026726, 0.9999992056473315,
    };

    private int _at;

    private void Next(double value, string what)
    {
        Assert.IsTrue(Expected[_at] == value, "number " + _at.ToString() + ", " + what + ", is not the same to the last bit");
        _at++;
    }

    private void LookAt(WaveRhythm rhythm)
    {
        long now = rhythm.LastMarkUs + 2_345_678;
        Next(rhythm.PeriodSeconds, "period");
        Next(rhythm.PeriodSpreadSeconds, "spread");
        Next(rhythm.BackwashSeconds, "backwash");
        Next(rhythm.BackwashSpreadSeconds, "its spread");
        for (int ahead = 1; ahead <= 3; ahead++)
        {
            Next(rhythm.TryForecast(now, ahead, out long turn, out double spread) ? turn : -1, "turn");
            Next(spread, "its spread");
            Next(rhythm.TryRelease(now, ahead, ahead * 0.5, out long release, out double chance) ? release : -1, "release");
            Next(chance, "its chance");
            Next(rhythm.ChanceInBackwash(now, turn + 700_000, 1.0), "chance after the turn");
        }
    }

    [TestMethod]
    public void ARhythmIsLearnedToTheLastBit()
    {
        _at = 0;
        WaveRhythm rhythm = new WaveRhythm();
        long at = 3_000_000;
        rhythm.Mark(at);
        for (int i = 0; i < Gaps.Length; i++)
        {
            at += Gaps[i] * 1000L;
            rhythm.Mark(at);
            if (i % 5 == 4) rhythm.LearnBackwash(2.4 + i * 0.17 % 1.9);
            if (i == 1 || i == 3 || i == 7 || i == 15 || i == Gaps.Length - 1) LookAt(rhythm);
        }
        BackwashLengths lengths = rhythm.Lengths;
        for (int i = 0; i < 20; i++) lengths.Learn(1.1 + i * 0.37 % 2.3);
        Next(lengths.MeanSeconds, "mean of the last sixteen");
        for (int i = 0; i < 9; i++) lengths.Watch(i % 4 == 2);
        Next(lengths.TooShortShare, "share of waves too short to time");
        for (int i = 1; i < 5; i++) Next(lengths.ChanceShorter(0.8 * i, 0.15, 0.15, lengths.MeanSeconds), "chance of a shorter one");
        Next(rhythm.SteadinessIndex, "steadiness");
    }

    [TestMethod]
    public void ADelayAndTheAdviceAreLearnedToTheLastBit()
    {
        _at = 102;
        WaveRhythm rhythm = new WaveRhythm();
        BackwashLengths lengths = new BackwashLengths();
        TurnDelay delay = new TurnDelay(lengths);
        long at = 3_000_000;
        for (int i = 0; i < Delays.Length; i++)
        {
            delay.Arrival(at);
            at += Delays[i] * 1000L;
            delay.Turn(at);
            rhythm.Mark(at);
            at += 8_000_000 - i * 310_000L;
            Next(delay.DelaySeconds, "delay");
            Next(delay.SpreadSeconds, "its spread");
            Next(delay.TryForecast(at, out long turn, out double spread) ? turn : -1, "turn");
            Next(spread, "its spread");
            Next(delay.TryRelease(at, 0.5 + i % 3, out long release, out double chance) ? release : -1, "release");
            Next(chance, "its chance");
            if (i == 5) lengths.Learn(2.7);
        }
        FiringAdvice advice = new FiringAdvice();
        for (int i = 0; i < 3; i++)
        {
            advice.Update(rhythm, delay, at, 0.5 + i);
            for (int way = 0; way < FiringAdvice.Count; way++) Next(advice.Chance(way), "chance of a way");
            Next(advice.DelayAfterMarkSeconds, "delay after the mark");
            Next(advice.Recommended, "recommended");
        }
        for (int i = -8; i <= 8; i++) Next(Normal.Below(i * 0.6), "normal distribution");
        Assert.AreEqual(Expected.Length, _at);
    }
}
