package catchbay.record;

import com.github.luben.zstd.ZstdIOException;
import com.github.luben.zstd.ZstdInputStream;
import com.github.luben.zstd.ZstdOutputStream;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.PushbackInputStream;
import java.util.Arrays;

/** The compressed form in which closed traces are kept: Zstandard (RFC 8878), with a check sum. */
public final class TraceArchive {

    /** Middle of the road: a minute of edges in a few milliseconds on one core. */
    private static final int LEVEL = 3;

    /** First bytes of a Zstandard frame (RFC 8878, 3.1.1). */
    private static final byte[] MAGIC = {0x28, (byte) 0xB5, 0x2F, (byte) 0xFD};

    private TraceArchive() {}

    /** The stream's text, whether it is compressed or not. */
    static InputStream text(InputStream stored) throws IOException {
        PushbackInputStream peeked = new PushbackInputStream(stored, MAGIC.length);
        byte[] first = peeked.readNBytes(MAGIC.length);
        peeked.unread(first);
        return Arrays.equals(first, MAGIC) ? new ZstdInputStream(peeked) : peeked;
    }

    /**
     * Compresses a trace.
     *
     * @return SHA-256 of the text, 64 lower-case hexadecimal digits
     */
    public static String compress(InputStream text, OutputStream compressed) throws IOException {
        TraceDigest digest = new TraceDigest();
        try (ZstdOutputStream out = new ZstdOutputStream(compressed, LEVEL)) {
            out.setCloseFrameOnFlush(false);
            out.setChecksum(true);
            byte[] buffer = new byte[64 * 1024];
            for (int count = text.read(buffer); count >= 0; count = text.read(buffer)) {
                digest.take(buffer, 0, count);
                out.write(buffer, 0, count);
            }
        }
        return digest.sha256();
    }

    /** Whether a stored trace, compressed or not, is whole and its text has this SHA-256. */
    public static boolean holds(InputStream stored, String sha256) throws IOException {
        try {
            return sha256(stored).equals(sha256);
        } catch (ZstdIOException damaged) {
            return false;
        }
    }

    /** SHA-256 of a stored trace's text, compressed or not, 64 lower-case hexadecimal digits. */
    public static String sha256(InputStream stored) throws IOException {
        TraceDigest digest = new TraceDigest();
        InputStream text = text(stored);
        byte[] buffer = new byte[64 * 1024];
        for (int count = text.read(buffer); count >= 0; count = text.read(buffer)) {
            digest.take(buffer, 0, count);
        }
        return digest.sha256();
    }
}
