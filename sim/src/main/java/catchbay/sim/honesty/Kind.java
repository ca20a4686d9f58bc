package catchbay.sim.honesty;

/**
 * What sort of catch is drawn: the strata of the study.
 *
 * @param fluid what flows
 * @param large a large catch or a small one
 * @param instruments what the bay has
 * @param report how the truck's figure is learned
 */
record Kind(Fluid fluid, boolean large, Instruments instruments, Report report) {

    /** What flows. */
    enum Fluid {
        WATER,
        NACL,
        CACL2,
        MGCL2,
        POTASSIUM_ACETATE,
        BLEND
    }

    /** What the bay has. */
    enum Instruments {
        PULSES,
        SCALE,
        BOTH
    }

    /** How the truck's figure is learned. */
    enum Report {
        /** Its meter's pulses, in a flying window. */
        PULSES,
        /** A running total on a line, in a flying window. */
        LINE,
        /** A typed total, in a standing window. */
        DISPLAY
    }

    /** The kind of that number: all combinations in turn, the fluid first. */
    static Kind ofNumber(int number) {
        int rest = number;
        Fluid fluid = Fluid.values()[rest % 6];
        rest /= 6;
        Instruments instruments = Instruments.values()[rest % 3];
        rest /= 3;
        Report report = Report.values()[rest % 3];
        rest /= 3;
        return new Kind(fluid, rest % 2 == 1, instruments, report);
    }
}
