package catchbay.hardware.serial;

import catchbay.port.PortSettings;
import catchbay.run.RunInput;
import catchbay.signal.Decoded;
import catchbay.signal.Framer;

import java.util.Optional;

/**
 * What is said on a line, and how it is understood.
 *
 * @param name the protocol, in words for a person
 * @param framer cuts its bytes into frames
 * @param reading makes an input of a frame
 * @param question what is asked again and again; empty when the device sends unasked
 */
record LineTalk(String name, Framer framer, Reading reading, Optional<Question> question) {

    /** Makes an input of a frame, stamped when its last byte came. */
    interface Reading {
        Decoded<RunInput> of(long atNanos, String frame);
    }

    /**
     * A question put to the device.
     *
     * @param bytes the question
     * @param periodNanos how often it is put, ns; of a lasting one, after how long a silence again
     * @param lasting whether the device goes on answering it by itself
     * @param farewell what ends the answering, sent when the line is let go
     */
    record Question(byte[] bytes, long periodNanos, boolean lasting, byte[] farewell) {

        private static final double POLL_HERTZ = 5;

        /** How much of a line's time questions and answers may take. */
        private static final double LINE_SHARE_MAX = 0.8;

        /** How long a device that should go on answering may be silent, ns. */
        private static final long SILENCE_NANOS = 1_000_000_000;

        /** A question answered once, put as often as the settings say. */
        static Question polled(
                PortSettings settings, SerialSettings line, byte[] bytes, int answerBytes) {
            double hertz = settings.number("poll_hertz", 0.2, 25, POLL_HERTZ);
            double exchangeNanos = (double) line.byteNanos() * (bytes.length + answerBytes);
            if (hertz * exchangeNanos > 1e9 * LINE_SHARE_MAX) {
                throw settings.refused(
                        "poll_hertz",
                        "question and answer take "
                                + Math.round(exchangeNanos / 1e6)
                                + " ms at "
                                + line.baud()
                                + " bits/s, too long for "
                                + hertz
                                + " times a second; lower poll_hertz or raise baud");
            }
            return new Question(bytes, (long) (1e9 / hertz), false, new byte[0]);
        }

        /** A question that the device goes on answering until told to stop. */
        static Question lasting(byte[] bytes, byte[] farewell) {
            return new Question(bytes, SILENCE_NANOS, true, farewell);
        }
    }
}
