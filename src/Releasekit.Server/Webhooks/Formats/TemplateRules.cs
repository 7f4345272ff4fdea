using System.Text.RegularExpressions;
using Fluid;
using Fluid.Ast;

namespace Releasekit.Server.Webhooks.Formats;

/// <summary>
/// Looks through a template for what could be parsed and is not offered: better said when it is saved than in a message
/// that comes out empty.
/// </summary>
internal sealed class TemplateRules : AstVisitor
{
    private readonly List<(string Reason, string Pattern)> _found = [];

    /// <summary>The first fault; null when there is none.</summary>
    public static TemplateFault? FaultOf(IFluidTemplate template, string source)
    {
        var rules = new TemplateRules();
        rules.VisitTemplate(template);

        if (rules._found is not [var (reason, pattern), ..])
        {
            return null;
        }

        // The tree does not say where a thing stands; the first that looks like it is the best guess.
        var before = source[..Regex.Match(source, pattern).Index].Split('\n');
        return new(reason, before.Length, before[^1].Length + 1);
    }

    protected override Expression VisitFilterExpression(FilterExpression filterExpression)
    {
        if (!TemplateFilters.Names.Contains(filterExpression.Name))
        {
            _found.Add((
                $"There is no filter '{filterExpression.Name}'; there are {string.Join(", ", TemplateFilters.Names)}.",
                $@"\|\s*{Regex.Escape(filterExpression.Name)}\b"));
        }

        return base.VisitFilterExpression(filterExpression);
    }

    protected override Expression VisitRangeExpression(RangeExpression rangeExpression)
    {
        _found.Add(("Ranges such as (1..5) are not offered.", @"\("));
        return base.VisitRangeExpression(rangeExpression);
    }
}
