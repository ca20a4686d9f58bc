package catchbay.hardware.serial;

import catchbay.run.RunInput;
import catchbay.signal.Decoded;
import catchbay.signal.Framer;

import java.util.Optional;

/**
 * What is said on a line, and how it is understood.
 *
 * @param framer cuts its bytes into frames
 * @param reading makes an input of a frame
 * @param question what is asked again and again; empty when the device sends unasked
 */
record LineTalk(Framer framer, Reading reading, Optional<Question> question) {

    /** Makes an input of a frame, stamped when its last byte came. */
    interface Reading {
        Decoded<RunInput> of(long atNanos, String frame);
    }

    /**
     * A question put to the device.
     *
     * @param bytes the question
     * @param periodNanos how often it is put, ns
     */
    record Question(byte[] bytes, long periodNanos) {}
}
