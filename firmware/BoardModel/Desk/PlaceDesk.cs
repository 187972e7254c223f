using Intervalometer.Coast.Tide;
using Intervalometer.Coast.Time;
using Intervalometer.Settings.Shore;
using Intervalometer.VirtualBoard.Memory;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.VirtualBoard.Desk;

/// <summary>A site file on the page: what is wrong with it, what a box would hold of it, and the files that bring it to a box.</summary>
public static class PlaceDesk
{
    /// <summary>The name of the text in error messages.</summary>
    public const string Source = "The place";

    /// <summary>The invented place, with which the page begins.</summary>
    public static PlaceShown Example() => Check(new PlaceAsked(DemoSite.Text));

    /// <summary>Checks a site file.</summary>
    public static PlaceShown Check(PlaceAsked asked)
    {
        try
        {
            UtcInstant now = Planner.FromDateTime(DateTime.UtcNow);
            Site site = SiteFile.Parse(asked.Site, Source);
            var text = new StringWriter { NewLine = "\n" };
            SiteSummary.Write(text, new OfflineBox(SiteImage.Make(site, now)).Shore, now);
            List<string> lines = [.. text.ToString().Split('\n').Where(l => l.Length > 0 && l != TideCaution.Full)];
            if (site.LeftOut.Words.Length > 0) lines.Add($"Left out    {site.LeftOut.Words}.");
            if (site.Place.PathCount > ShoreSettings.MostPoints)
                lines.Add($"The file has {site.Place.PathCount} low points, and the box holds {ShoreSettings.MostPoints}. Its last one stands for the rest and is as strict as the strictest of them.");
            return new PlaceShown(asked.Site, [], lines, TideCaution.Full);
        }
        catch (SiteFileException e)
        {
            return new PlaceShown(asked.Site, e.Mistakes, [], TideCaution.Full);
        }
        catch (MemoryImageException e)
        {
            return new PlaceShown(asked.Site, [new SiteMistake(0, e.Message)], [], TideCaution.Full);
        }
    }

    /// <summary>Puts a pasted table into the site file, and checks the result.</summary>
    public static PlaceShown Paste(PlaceAsked asked) => Check(asked with { Site = PastedTable.Into(asked.Site, asked.Table ?? "") });

    /// <summary>Compares the place with a week of an official table.</summary>
    public static WeekShown Against(PlaceAsked asked)
    {
        OfficialWeek week = OfficialWeek.Compare(SiteFile.Parse(asked.Site, Source), asked.Table ?? "", "the table");
        return new WeekShown(week.Agrees, week.Lines);
    }

    /// <summary>An image of a box's memory with the place in it.</summary>
    public static byte[] Memory(PlaceAsked asked)
    {
        if (asked.File is { Length: > 0 } dump && dump.Length != At24c32Model.Size) throw new MemoryImageException($"The dump holds {dump.Length} bytes, and the memory {At24c32Model.Size}; read the whole chip out.");
        return SiteImage.Make(SiteFile.Parse(asked.Site, Source), Planner.FromDateTime(DateTime.UtcNow), asked.File is { Length: > 0 } into ? into : null);
    }

    /// <summary>The image of the firmware with the place in it.</summary>
    public static byte[] Flash(PlaceAsked asked) =>
        FlashPlace.Put(asked.File ?? [], SiteFile.Parse(asked.Site, Source), Planner.FromDateTime(DateTime.UtcNow));
}
