using System.Text;

namespace Releasekit.Server.Webhooks.Formats;

/// <summary>Takes what a template writes, up to the size of a message.</summary>
internal sealed class BoundedText(TemplateLimits limits) : StringWriter
{
    private int _bytes;

    public override void Write(char value)
    {
        Count(value < 0x80 ? 1 : 3);
        base.Write(value);
    }

    public override void Write(char[] buffer, int index, int count)
    {
        Count(Encoding.UTF8.GetByteCount(buffer, index, count));
        base.Write(buffer, index, count);
    }

    public override void Write(ReadOnlySpan<char> buffer)
    {
        Count(Encoding.UTF8.GetByteCount(buffer));
        base.Write(buffer);
    }

    public override void Write(string? value)
    {
        Count(Encoding.UTF8.GetByteCount(value ?? ""));
        base.Write(value);
    }

    private void Count(int bytes)
    {
        limits.CheckTime();
        _bytes += bytes;

        if (_bytes > ThinEvent.MostBytes)
        {
            throw new TemplateLimitException($"The template makes more than {ThinEvent.MostBytes} bytes.");
        }
    }
}
