using System.Globalization;

namespace PatternKit.Exchange.ThreeMf;

/// <summary>Reads on until a limit: what a packed part says of its size need not be true.</summary>
internal sealed class LimitedStream(Stream inner, long limit, string source, string part) : Stream
{
    private long _read;

    public override bool CanRead => true;

    public override bool CanSeek => false;

    public override bool CanWrite => false;

    public override long Length => throw new NotSupportedException();

    public override long Position
    {
        get => throw new NotSupportedException();
        set => throw new NotSupportedException();
    }

    public override int Read(byte[] buffer, int offset, int count)
    {
        var read = inner.Read(buffer, offset, count);
        _read += read;
        return _read <= limit ? read : throw new InputException(source, part, string.Create(CultureInfo.InvariantCulture, $"unpacks to more than {limit >> 20} MB. Export the part with a coarser tolerance."));
    }

    public override void Flush()
    {
    }

    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

    public override void SetLength(long value) => throw new NotSupportedException();

    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();

    protected override void Dispose(bool disposing)
    {
        if (disposing) inner.Dispose();
        base.Dispose(disposing);
    }
}
