return Intervalometer.VirtualBoard.Cli.CommandLine.Run(args, Console.Out, Console.Error);
