package catchbay.metrology;

import catchbay.quantity.Temperature;

/** Where a liquid begins to turn solid as it cools. */
public sealed interface SolidPoint {

    /** The coldest temperature at which the liquid is surely without ice and crystals. */
    Temperature clearFrom();

    /**
     * Ice begins.
     *
     * @param at the freezing point
     */
    record Ice(Temperature at) implements SolidPoint {
        @Override
        public Temperature clearFrom() {
            return at;
        }
    }

    /**
     * Ice begins somewhere between: so weak a brine lies below the strengths of the published
     * curve.
     *
     * @param warmest the freezing point of water
     * @param coldest the freezing point of the weakest brine on the curve
     */
    record IceBetween(Temperature warmest, Temperature coldest) implements SolidPoint {
        @Override
        public Temperature clearFrom() {
            return warmest;
        }
    }

    /**
     * Stronger than the eutectic: salt comes out first, not ice. Where exactly is not given; an ice
     * curve says nothing of it.
     *
     * @param clearFrom at this temperature and above no crystals form
     */
    record Crystals(Temperature clearFrom) implements SolidPoint {}
}
