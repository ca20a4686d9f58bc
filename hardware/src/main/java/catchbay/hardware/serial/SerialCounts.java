package catchbay.hardware.serial;

/**
 * What a line has seen since it was first opened.
 *
 * @param inputs frames that were understood and handed on
 * @param framesRefused frames begun and given up, or whole and not understood
 * @param bytesDiscarded bytes that belong to no frame
 * @param pollsUnanswered questions to which no answer came in time
 * @param reconnects how often the line was opened again
 * @param lastRefusal why the last frame was not understood; empty when every one was
 */
public record SerialCounts(
        long inputs,
        long framesRefused,
        long bytesDiscarded,
        long pollsUnanswered,
        long reconnects,
        String lastRefusal) {}
