package catchbay.sim.honesty;

import catchbay.run.Doubts;

/**
 * What is true of one day of a bay.
 *
 * @param density of the liquid, kg/m3
 * @param air density of the air, kg/m3
 * @param span what the room's temperature does to the scale, relative
 * @param scatter what this day does to the truck's error, as a ratio
 */
record Day(double density, double air, double span, double scatter) {

    static Day of(Bay bay, Dice dice) {
        Doubts doubts = bay.setup().doubts();
        Doubts.Temperatures warmth = doubts.temperatures();
        double room =
                bay.setup()
                        .scale()
                        .flatMap(scale -> scale.certificate().conditions().temperature())
                        .map(then -> warmth.room().orElseThrow().minus(then))
                        .orElse(0.0);
        double air = bay.setup().liquid().air().kilogramsPerCubicMetre();
        return new Day(
                bay.liquid().draw().on(dice),
                air + dice.even(0.05 * air),
                dice.even(doubts.scale().perKelvin().value() * Math.abs(room)),
                dice.normal(bay.dayDeviation()));
    }
}
