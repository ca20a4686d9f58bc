package catchbay.hardware.gpiochip;

/**
 * The door's numbers of one line's edges, made of the two that the kernel gives. {@code seqno}
 * counts where an edge interrupts, {@code line_seqno} where its event is stored, after the merging
 * of edges that came too fast: whichever leapt further tells of lost edges. Both have 32 bits and
 * go round. An edge that is new by neither repeats its number, which makes a run void.
 */
final class EdgeNumbers {

    private int sequence;
    private int lineSequence;
    private long number;

    /** The number of the next edge; the first of a request is 1. */
    long next(int sequenceNow, int lineSequenceNow) {
        int step = Math.max(sequenceNow - sequence, lineSequenceNow - lineSequence);
        sequence = sequenceNow;
        lineSequence = lineSequenceNow;
        number += Math.max(0, step);
        return number;
    }
}
