package catchbay.run;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Pressure;

import java.util.Optional;

/**
 * One step of a hunt: what was asked for, what flowed, and what the truck made of it.
 *
 * @param number which one, from 1
 * @param rising whether it came on the way up
 * @param asked about how much was to flow
 * @param flow what flowed; empty where it could not be measured, and only there
 * @param answer what it shows
 * @param meter what the truck's meter gave; empty where it is not tapped
 * @param windowNanos how long it was measured
 * @param coupler the highest pressure at the coupler meanwhile, where a gauge told it
 * @param note what a reader must know, as a sentence; empty where nothing is remarkable
 */
public record HuntReading(
        int number,
        boolean rising,
        FlowRate asked,
        Optional<MeasuredFlow> flow,
        Answer answer,
        Optional<Train> meter,
        long windowNanos,
        Optional<Pressure> coupler,
        Optional<String> note) {

    /** What a step shows. */
    public enum Answer {
        /** The truck's meter gives pulses, evenly. */
        COUNTING("counts"),
        /** It gives some, and leaves others out. */
        INTERMITTENT("now and then"),
        /** It gives none. */
        SILENT("silent"),
        /** The truck gives what is asked more of it. */
        FOLLOWS("follows"),
        /** It does not, or does not come to rest at it. */
        FALLS_SHORT("falls short"),
        /** Nothing: the flow was not steady, or could not be measured. */
        UNTOLD("untold");

        private final String words;

        Answer(String words) {
            this.words = words;
        }

        /** How a person reads it. */
        public String words() {
            return words;
        }
    }

    /**
     * The pulses of the truck's meter in a window.
     *
     * @param pulses how many
     * @param due how many its constant owes for what flowed
     * @param silenceNanos the longest time without one, the window's ends counted as pulses
     */
    public record Train(long pulses, double due, long silenceNanos) {}

    public HuntReading {
        if (flow.isEmpty() && answer != Answer.UNTOLD) {
            throw new IllegalArgumentException(
                    "a step without a measured flow tells nothing, and was said to be " + answer);
        }
    }
}
