using System.Text;
using PatternKit.Cli;

// Findings have letters beyond ASCII, also where the system's own code page has not.
Console.OutputEncoding = new UTF8Encoding(false);
return CommandLine.Run(args, Console.Out, Console.Error);
