using System.CommandLine;
using PatternKit.Cli.Output;
using PatternKit.Foundry;

namespace PatternKit.Cli.Commands;

/// <summary><c>sands</c>: the table of moulding sands, every value with its source.</summary>
internal static class SandsCommand
{
    public static Command Create(Terminal terminal) => TableCommand.Create(
        terminal, "sands", "Lists the sands that a job can name, every value with its source.", t => t.Sands.Select(Rows));

    private static ValueRows Rows(Sand s) => new(s.Key, s.Title, [],
    [
        ValueRow.Of("density_kg_m3", "density, rammed", "kg/m³", s.Density_kg_m3),
        ValueRow.Of("conductivity_W_mK", "conductivity", "W/(m·K)", s.Conductivity_W_mK),
        ValueRow.Of("specific_heat_J_kgK", "specific heat", "J/(kg·K)", s.SpecificHeat_J_kgK),
        ValueRow.Of("standing_limit_widths", "height standing in the drag", "× width", s.StandingLimit),
        ValueRow.Of("hanging_limit_widths", "depth hanging in the cope", "× width", s.HangingLimit),
        .. s.Strength_kPa is { } strength ? [ValueRow.Of("strength_kPa", "compression strength", "kPa", strength)] : Array.Empty<ValueRow>(),
    ]);
}
