return Intervalometer.Flash.FlashCommand.Run(args, Console.Out, Console.Error);
