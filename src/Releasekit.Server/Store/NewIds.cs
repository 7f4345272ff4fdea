namespace Releasekit.Server.Store;

/// <summary>
/// Ids that grow: UUIDs of version 7 with a counter in place of their first
/// random bits (RFC 9562, 6.2, method 1), so that what one process makes within
/// a millisecond still lists in the order it was made.
/// </summary>
internal static class NewIds
{
    private const int CounterEnd = 1 << 12;
    private static readonly Lock Gate = new();
    private static long _millisecond;
    private static int _counter;

    public static Guid Next()
    {
        var id = Guid.CreateVersion7();
        var bytes = id.ToByteArray(bigEndian: true);
        var millisecond = Millisecond(bytes);

        lock (Gate)
        {
            // A clock set back must not bring ids that sort before those given out.
            _counter = millisecond > _millisecond ? 0 : _counter + 1;
            _millisecond = Math.Max(millisecond, _millisecond) + (_counter == CounterEnd ? 1 : 0);
            _counter %= CounterEnd;
            Write(bytes, _millisecond, _counter);
        }

        return new Guid(bytes, bigEndian: true);
    }

    private static long Millisecond(byte[] id) =>
        ((long)id[0] << 40) | ((long)id[1] << 32) | ((long)id[2] << 24) | ((long)id[3] << 16) | (
            (long)id[4] << 8) | id[5];

    private static void Write(byte[] id, long millisecond, int counter)
    {
        for (var i = 0; i < 6; i++)
        {
            id[i] = (byte)(millisecond >> (8 * (5 - i)));
        }

        id[6] = (byte)(0x70 | (counter >> 8));
        id[7] = (byte)counter;
    }
}
