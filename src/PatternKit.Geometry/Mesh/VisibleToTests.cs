using System.Runtime.CompilerServices;

[assembly: InternalsVisibleTo("PatternKit.Geometry.Tests")]
