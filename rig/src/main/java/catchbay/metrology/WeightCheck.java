package catchbay.metrology;

import catchbay.metrology.Input.Scope;
import catchbay.metrology.ModelSketch.Quantity;
import catchbay.quantity.Density;
import catchbay.quantity.Mass;
import catchbay.quantity.Ratio;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * A scale held against check weights where it stands, between two readings of the empty scale: each
 * is put on once, or one upon the other and off again.
 *
 * @param points one for each load, in the order in which they were put on
 * @param zeroReturn the empty scale's reading afterwards less that before
 * @param zeroLimit what that may be, to either side
 */
public record WeightCheck(List<Point> points, Mass zeroReturn, Mass zeroLimit) {

    /** What arithmetic may leave of a difference of two readings: kg, or an error's own unit. */
    private static final double ROUNDING = 1e-9;

    /** What a check says of a scale. */
    public enum Answer {
        /** It may be weighed with. */
        PASSES,
        /** It may not. */
        FAILS,
        /** Neither: weights or readings are too coarse for what is allowed. */
        CANNOT_TELL;

        /**
         * By simple acceptance. An uncertainty above the limit tells nothing, unless the error is
         * beyond the limit by more than that uncertainty.
         *
         * @param limit of the error to either side, in its unit
         */
        static Answer of(Budget.Output error, double limit) {
            double beyond = Math.abs(error.value()) - limit - ROUNDING;
            if (beyond > error.expanded()) {
                return FAILS;
            }
            if (error.expanded() > limit) {
                return CANNOT_TELL;
            }
            return beyond > 0 ? FAILS : PASSES;
        }
    }

    /**
     * One weight, or several put on together.
     *
     * @param name by which a person knows it
     * @param mass its conventional mass: what an ideal scale would show of it in air of 1.2 kg/m3
     * @param expanded how well that is known, k = 2
     * @param density of what it is made of
     */
    public record Load(String name, Mass mass, Mass expanded, Density density) {
        public Load {
            if (!(mass.kilograms() > 0) || !(expanded.kilograms() >= 0)) {
                throw new IllegalArgumentException(
                        "check weight '"
                                + name
                                + "' needs a mass above 0 kg and an uncertainty of at least 0 kg,"
                                + " has "
                                + mass.kilograms()
                                + " and "
                                + expanded.kilograms());
            }
        }

        /**
         * Several put on together; their uncertainties add up, being of one calibration.
         *
         * @param name by which a person knows them
         */
        public static Load together(String name, List<Load> loads) {
            double mass = 0;
            double expanded = 0;
            double trueKilograms = 0;
            double cubicMetres = 0;
            for (Load load : loads) {
                mass += load.mass.kilograms();
                expanded += load.expanded.kilograms();
                double alone = Buoyancy.trueMass(load.mass, load.density, Buoyancy.AIR).kilograms();
                trueKilograms += alone;
                cubicMetres += alone / load.density.kilogramsPerCubicMetre();
            }
            return new Load(
                    name,
                    new Mass(mass),
                    new Mass(expanded),
                    new Density(trueKilograms / cubicMetres));
        }
    }

    /**
     * What may be wrong at a load, to either side: {@code base + share x load}.
     *
     * @param base at any load
     * @param share of the load
     */
    public record Limit(Mass base, Ratio share) {
        Mass at(Mass load) {
            return new Mass(base.kilograms() + share.value() * load.kilograms());
        }
    }

    /**
     * How finely the scale reads.
     *
     * @param resolution the step of its display
     * @param repeatability standard deviation of one reading
     */
    public record Reading(Mass resolution, Mass repeatability) {}

    /**
     * What the scale made of a load.
     *
     * @param load what was put on
     * @param due what it should show of that, in this air
     * @param shown what it showed, less the empty scale
     * @param error in kg, shown less due
     * @param limit what that may be
     */
    public record Point(Load load, Mass due, Mass shown, Budget.Output error, Mass limit) {

        /** What it says of the scale; as {@link Answer#of}. */
        public Answer answer() {
            return Answer.of(error, limit.kilograms());
        }
    }

    public WeightCheck {
        points = List.copyOf(points);
        if (points.isEmpty()) {
            throw new IllegalArgumentException("a check needs at least one weight");
        }
    }

    /**
     * What a check's readings give. The empty scale's reading is taken to have moved evenly from
     * the first to the last, and is anywhere between them at each load.
     *
     * @param emptyBefore the empty scale's reading before the first load
     * @param loads what was put on, in this order
     * @param readings what the scale showed of each
     * @param emptyAfter the empty scale's reading after the last
     * @param air density of the air at the scale
     */
    public static WeightCheck of(
            Mass emptyBefore,
            List<Load> loads,
            List<Mass> readings,
            Mass emptyAfter,
            Reading reading,
            Limit limit,
            Density air) {
        double before = emptyBefore.kilograms();
        double moved = emptyAfter.kilograms() - before;
        List<Point> points = new ArrayList<>();
        for (int i = 0; i < loads.size(); i++) {
            double empty = before + moved * (i + 1) / (loads.size() + 1);
            Mass shown = new Mass(readings.get(i).kilograms() - empty);
            Load load = loads.get(i);
            Mass due = Buoyancy.shownOf(load.mass, load.density, air);
            points.add(
                    new Point(
                            load,
                            due,
                            shown,
                            error(load, due, shown, Math.abs(moved) / 2, reading),
                            limit.at(load.mass)));
        }
        return new WeightCheck(
                points,
                new Mass(moved),
                new Mass(reading.resolution.kilograms() + limit.base.kilograms()));
    }

    private static Budget.Output error(
            Load load, Mass due, Mass shown, double drift, Reading reading) {
        ModelSketch sketch = new ModelSketch();
        Quantity steps =
                sketch.twoEven(
                        "resolution of two readings",
                        shown.kilograms(),
                        reading.resolution.kilograms() / 2,
                        Scope.RUN);
        Quantity scatter =
                sketch.normal(
                        "repeatability of two readings",
                        0,
                        Math.sqrt(2) * reading.repeatability.kilograms(),
                        Scope.RUN);
        Quantity zero = sketch.even("drift of the zero", 0, drift, Scope.RUN);
        Quantity weight =
                sketch.normal(
                        "check weight",
                        due.kilograms(),
                        load.expanded.kilograms() / Certificate.COVERAGE,
                        Scope.BAY);
        sketch.output("error", x -> steps.at(x) + scatter.at(x) + zero.at(x) - weight.at(x));
        return sketch.sketched().budget().output("error");
    }

    /**
     * What the scale showed of a load on the way down less what it showed of the same on the way
     * up, where that is largest to either side; empty where no load was read twice.
     */
    public Optional<Mass> hysteresis() {
        Map<Load, Mass> up = new HashMap<>();
        Optional<Mass> most = Optional.empty();
        for (Point point : points) {
            Mass before = up.putIfAbsent(point.load, point.shown);
            if (before != null) {
                Mass more = point.shown.minus(before);
                most = most.filter(m -> size(m) >= size(more)).or(() -> Optional.of(more));
            }
        }
        return most;
    }

    private static double size(Mass mass) {
        return Math.abs(mass.kilograms());
    }

    /** The heaviest load. */
    public Mass heaviest() {
        return new Mass(
                points.stream()
                        .mapToDouble(point -> point.load.mass.kilograms())
                        .max()
                        .orElseThrow());
    }

    /** Whether the empty scale came back to what it had shown. */
    public boolean zeroReturns() {
        return Math.abs(zeroReturn.kilograms()) <= zeroLimit.kilograms() + ROUNDING;
    }

    /** What all of it says: one load that fails, or a zero that does not return, is enough. */
    public Answer answer() {
        Set<Answer> answers = points.stream().map(Point::answer).collect(Collectors.toSet());
        if (!zeroReturns() || answers.contains(Answer.FAILS)) {
            return Answer.FAILS;
        }
        return answers.contains(Answer.CANNOT_TELL) ? Answer.CANNOT_TELL : Answer.PASSES;
    }
}
