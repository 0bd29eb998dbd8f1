using System.Text;
using PatternKit.Cli;
using PatternKit.Foundry;

// Findings have letters beyond ASCII, also where the system's own code page has not.
Console.OutputEncoding = new UTF8Encoding(false);
// Almost every command needs the tables; they are read while the arguments are.
_ = Task.Run(() => FoundryTables.Default);
return CommandLine.Run(args, Console.Out, Console.Error);
