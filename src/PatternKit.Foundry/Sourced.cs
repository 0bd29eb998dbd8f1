namespace PatternKit.Foundry;

/// <summary>A value together with where it comes from and how it was found, ready to be printed in a report.</summary>
/// <typeparam name="T">Usually a number, in the unit that the function's documentation names.</typeparam>
/// <param name="Value">The value.</param>
/// <param name="Source">Standard, book or page, with "from memory" or "common practice" where that is all there is.</param>
/// <param name="Rule">One line that says what was applied, with units and, for percentages, what they are percent of.</param>
public sealed record Sourced<T>(T Value, string Source, string Rule);
