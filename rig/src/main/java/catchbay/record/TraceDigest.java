package catchbay.record;

import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/** The count and the SHA-256 of a trace's lines as they pass. Not thread-safe. */
public final class TraceDigest {

    private final MessageDigest sha256 = sha256Digest();
    private long lines;

    /** Some whole lines of the trace, in order. */
    public void take(byte[] bytes, int from, int length) {
        sha256.update(bytes, from, length);
        for (int i = from; i < from + length; i++) {
            if (bytes[i] == '\n') {
                lines++;
            }
        }
    }

    /** How many lines were taken. */
    public long lines() {
        return lines;
    }

    /** SHA-256 of all bytes taken so far, 64 lower-case hexadecimal digits. */
    public String sha256() {
        try {
            return HexFormat.of().formatHex(((MessageDigest) sha256.clone()).digest());
        } catch (CloneNotSupportedException impossible) {
            throw new AssertionError("the JDK's SHA-256 can be cloned", impossible);
        }
    }

    /** The closing line of a trace that consists of the lines taken so far. */
    public TraceLine.Closing closing(long atNanos, String end, String reason) {
        return new TraceLine.Closing(atNanos, end, reason, lines, sha256());
    }

    static MessageDigest sha256Digest() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException impossible) {
            throw new AssertionError("every Java platform has SHA-256", impossible);
        }
    }
}
