package catchbay.signal;

import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;

/** What one frame from a scale says. */
public sealed interface ScaleFrame {

    /**
     * A weight.
     *
     * @param amount the number shown, in {@code unit}
     * @param unit the unit named in the frame
     * @param net whether a tare is subtracted by the scale itself
     * @param inMotion whether the scale says its load is moving
     */
    record Weight(double amount, MassUnit unit, boolean net, boolean inMotion)
            implements ScaleFrame {
        public Weight {
            if (!Double.isFinite(amount)) {
                throw new IllegalArgumentException("scale weight must be finite, was " + amount);
            }
        }

        /** The weight as mass, before any correction. */
        public Mass mass() {
            return Mass.of(amount, unit);
        }
    }

    /**
     * A well-formed frame that carries no weight (overload, below zero, a zero or tare error), in
     * words.
     */
    record NoWeight(String reason) implements ScaleFrame {}
}
