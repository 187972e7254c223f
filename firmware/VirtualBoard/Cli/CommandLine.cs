using System.CommandLine;
using Intervalometer.VirtualBoard.Plan;
using Intervalometer.VirtualBoard.Study;

namespace Intervalometer.VirtualBoard.Cli;

/// <summary>The commands. Exit codes: 0 done, 1 refused by the firmware, 2 bad input.</summary>
public static class CommandLine
{
    /// <summary>Bad input.</summary>
    public const int BadInput = 2;

    /// <summary>Runs one command line.</summary>
    public static int Run(string[] args, TextWriter output, TextWriter error)
    {
        var root = new RootCommand("The virtual board: the whole box on a PC, with a camera and a sea.");
        root.Subcommands.Add(ServeVerb.Make(error));
        root.Subcommands.Add(PlayVerb.Make(output, error));
        root.Subcommands.Add(FilmVerb.Make(output, error));
        root.Subcommands.Add(AnswerVerb.Make(output, error));
        root.Subcommands.Add(StudyCommand.Build());
        root.Subcommands.Add(DawnStudyCommand.Build());
        root.Subcommands.Add(PlanCommand.Build());
        root.Subcommands.Add(SiteVerb.Make(output, error));
        Option<int> port = ServeVerb.PortOption();
        root.Options.Add(port);
        root.SetAction((parsed, cancel) => ServeVerb.Serve(parsed.GetValue(port), error, cancel));
        ParseResult result = root.Parse(args);
        if (result.Errors.Count > 0)
        {
            error.WriteLine(result.Errors[0].Message.TrimEnd('.') + "; see --help.");
            return BadInput;
        }
        return result.InvokeAsync(new InvocationConfiguration { Output = output, Error = error }).GetAwaiter().GetResult();
    }
}
