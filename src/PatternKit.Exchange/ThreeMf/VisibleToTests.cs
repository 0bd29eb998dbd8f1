using System.Runtime.CompilerServices;

[assembly: InternalsVisibleTo("PatternKit.Exchange.Tests")]
