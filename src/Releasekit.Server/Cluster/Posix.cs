using System.Buffers.Binary;
using System.Runtime.InteropServices;
using Microsoft.Win32.SafeHandles;

namespace Releasekit.Server.Cluster;

/// <summary>Who owns a file or folder, what it may be used for, and which one it is (a path can be renamed).</summary>
internal sealed record Standing(uint User, uint Group, UnixFileMode Mode, bool IsFolder, (ulong, ulong) Identity);

/// <summary>The few system calls .NET has no name for.</summary>
internal static class Posix
{
    public const int Interrupt = 2;
    public const int Quit = 3;
    public const int Kill = 9;

    private const int Here = -100;
    private const int DoNotFollow = 0x100;
    private const uint BasicFields = 0x7ff;
    private const int FolderType = 0x4000;
    private const int TypeBits = 0xf000;

    public static bool IsRoot => geteuid() == 0;

    public static uint User => geteuid();

    public static bool MayWrite(string folder) => access(folder, 3) == 0;

    public static void Signal(int process, int signal) => _ = kill(process, signal);

    public static void GiveTo(string path, uint user, uint group)
    {
        if (lchown(path, user, group) != 0)
        {
            throw new IOException($"chown {path}: {Marshal.GetLastPInvokeErrorMessage()}");
        }
    }

    /// <summary>
    /// Null where the path does not exist, cannot be reached, or the system is not Linux. <c>statx</c> is used because
    /// its layout is the same on every processor.
    /// </summary>
    public static Standing? Look(string path, bool follow = true)
    {
        var field = new byte[256];
        if (!OperatingSystem.IsLinux() || statx(Here, path, follow ? 0 : DoNotFollow, BasicFields, field) != 0)
        {
            return null;
        }

        uint Word(int at) => BinaryPrimitives.ReadUInt32LittleEndian(field.AsSpan(at));
        var type = BinaryPrimitives.ReadUInt16LittleEndian(field.AsSpan(28));
        var inode = BinaryPrimitives.ReadUInt64LittleEndian(field.AsSpan(32));
        var device = ((ulong)Word(136) << 32) | Word(140);
        return new(Word(20), Word(24), (UnixFileMode)(type & 0xfff), (type & TypeBits) == FolderType, (inode, device));
    }

    /// <summary>Makes renames and new names in a folder survive a power cut.</summary>
    public static void Sync(string folder)
    {
        var handle = open(folder, 0);
        if (handle >= 0)
        {
            _ = fsync(handle);
            _ = close(handle);
        }
    }

    /// <summary>Opens a file without the shared lock that .NET takes on everything it reads.</summary>
    public static SafeFileHandle OpenToRead(string path) => new(open(path, 0), ownsHandle: true);

    [DllImport("libc")]
    private static extern uint geteuid();

    [DllImport("libc", BestFitMapping = false, ThrowOnUnmappableChar = true)]
    private static extern int access([MarshalAs(UnmanagedType.LPUTF8Str)] string path, int mode);

    [DllImport("libc")]
    private static extern int kill(int process, int signal);

    [DllImport("libc", SetLastError = true, BestFitMapping = false, ThrowOnUnmappableChar = true)]
    private static extern int lchown([MarshalAs(UnmanagedType.LPUTF8Str)] string path, uint user, uint group);

    [DllImport("libc", BestFitMapping = false, ThrowOnUnmappableChar = true)]
    private static extern int statx(
        int folder, [MarshalAs(UnmanagedType.LPUTF8Str)] string path, int flags, uint mask, [Out] byte[] into);

    [DllImport("libc", BestFitMapping = false, ThrowOnUnmappableChar = true)]
    private static extern int open([MarshalAs(UnmanagedType.LPUTF8Str)] string path, int flags);

    [DllImport("libc")]
    private static extern int fsync(int handle);

    [DllImport("libc")]
    private static extern int close(int handle);
}
