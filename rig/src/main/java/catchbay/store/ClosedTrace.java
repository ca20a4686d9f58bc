package catchbay.store;

/**
 * A trace that was sealed and closed.
 *
 * @param run the run's identity
 * @param fileName name of its uncompressed file; what a record keeps, also once the file is
 *     compressed
 * @param sha256 of its whole uncompressed text, 64 lower-case hexadecimal digits
 * @param lines how many lines it has, closing line included
 */
public record ClosedTrace(String run, String fileName, String sha256, long lines) {}
