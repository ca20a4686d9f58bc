package catchbay.run;

import catchbay.quantity.Mass;

/**
 * What a person is asked to do to the scale between catches; done when {@link Question#LOAD_SCALE}
 * is answered.
 */
public sealed interface ScaleTask {

    /** What is asked, as sentences. */
    String words();

    /** Nothing stands on it but what always does. */
    record Empty() implements ScaleTask {
        @Override
        public String words() {
            return "Take all check weights off the scale, then press Enter.";
        }
    }

    /**
     * This weight and no other.
     *
     * @param name by which the person knows it
     * @param mass its conventional mass
     */
    record Weight(String name, Mass mass) implements ScaleTask {
        @Override
        public String words() {
            return "Put on the scale, and nothing else: " + name + ". Then press Enter.";
        }
    }

    /**
     * This weight on top of what is there.
     *
     * @param name by which the person knows it
     * @param mass its conventional mass
     */
    record Add(String name, Mass mass) implements ScaleTask {
        @Override
        public String words() {
            return "Put on as well: " + name + ". Then press Enter.";
        }
    }

    /**
     * This weight off, the others stay.
     *
     * @param name by which the person knows it
     * @param mass its conventional mass
     */
    record TakeOff(String name, Mass mass) implements ScaleTask {
        @Override
        public String words() {
            return "Take off, and leave the others: " + name + ". Then press Enter.";
        }
    }

    /**
     * The hose hangs at the tank as in a catch, or not; the load stays the same.
     *
     * @param on whether it hangs there
     */
    record Hose(boolean on) implements ScaleTask {
        @Override
        public String words() {
            return on
                    ? "Put the hose back as it hangs in a catch, change nothing else, then press"
                            + " Enter."
                    : "Take the hose away from the tank, change nothing else, then press Enter.";
        }
    }
}
