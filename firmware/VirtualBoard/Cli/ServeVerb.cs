using System.CommandLine;
using Intervalometer.VirtualBoard.Web;

namespace Intervalometer.VirtualBoard.Cli;

/// <summary>The command serve: the page, for this PC only.</summary>
internal static class ServeVerb
{
    public static Option<int> PortOption() => new("--port") { Description = "Port on 127.0.0.1; 0 takes a free one.", DefaultValueFactory = _ => 5080 };

    public static Command Make(TextWriter error)
    {
        Option<int> port = PortOption();
        var verb = new Command("serve", "Show the board on a web page, for this PC only (the default).") { port };
        verb.SetAction((parsed, cancel) => Serve(parsed.GetValue(port), error, cancel));
        return verb;
    }

    public static async Task<int> Serve(int port, TextWriter error, CancellationToken cancel)
    {
        if (port is < 0 or > 65535)
        {
            error.WriteLine($"Port {port} does not exist; use 1 to 65535.");
            return CommandLine.BadInput;
        }
        try
        {
            await using PageServer server = await PageServer.StartAsync(port);
            Console.WriteLine($"Open {server.Address} in a browser; Ctrl+C ends.");
            await server.RunAsync(cancel);
            return 0;
        }
        catch (IOException)
        {
            error.WriteLine($"Port {port} is in use; choose another with --port.");
            return CommandLine.BadInput;
        }
    }
}
