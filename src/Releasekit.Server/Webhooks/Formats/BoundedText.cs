using System.Text;

namespace Releasekit.Server.Webhooks.Formats;

/// <summary>Takes what a template writes, up to the size of a message; by every way of writing there is.</summary>
internal sealed class BoundedText(TemplateLimits limits) : TextWriter
{
    private readonly StringBuilder _text = new();
    private int _bytes;

    public override Encoding Encoding => Encoding.UTF8;

    public override string ToString() => _text.ToString();

    public override void Write(char value) => Write([value]);

    public override void Write(string? value) => Write(value.AsSpan());

    public override void Write(char[] buffer, int index, int count) => Write(buffer.AsSpan(index, count));

    public override void Write(ReadOnlySpan<char> buffer)
    {
        limits.CheckTime();
        _bytes += Encoding.UTF8.GetByteCount(buffer);

        if (_bytes > ThinEvent.MostBytes)
        {
            throw new TemplateLimitException($"The template makes more than {ThinEvent.MostBytes} bytes.");
        }

        _text.Append(buffer);
    }

    public override Task WriteAsync(char value) => Written([value]);

    public override Task WriteAsync(string? value) => Written(value.AsSpan());

    public override Task WriteAsync(char[] buffer, int index, int count) => Written(buffer.AsSpan(index, count));

    public override Task WriteAsync(ReadOnlyMemory<char> buffer, CancellationToken cancellationToken = default) =>
        Written(buffer.Span);

    private Task Written(ReadOnlySpan<char> text)
    {
        Write(text);
        return Task.CompletedTask;
    }
}
