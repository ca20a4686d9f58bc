package catchbay.metrology;

import catchbay.metrology.Diagnosis.Limits;
import catchbay.metrology.Diagnosis.Offer;
import catchbay.metrology.TruckCurve.Linearity;
import catchbay.metrology.TruckCurve.Reading;
import catchbay.metrology.TruckCurve.Scatter;
import catchbay.metrology.TruckCurve.Station;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Ratio;

import org.hipparchus.distribution.continuous.ChiSquaredDistribution;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** What the catches say of the truck's meter and its constant. */
final class MeterJudgement {

    /** A scatter is beyond what the bay explains where chance gives one so large 1 time in 20. */
    private static final double CHANCE = 0.05;

    /** Keeps the weight of a flow whose random part is not worth mentioning finite. */
    private static final double RANDOM_RATIO_LEAST = 1e-5;

    private final Optional<TruckCurve> curve;
    private final FlowMix mix;
    private final List<CatchEvidence> catches;
    private final Limits limits;
    private final boolean outletsShut;

    MeterJudgement(
            Optional<TruckCurve> curve,
            FlowMix mix,
            List<CatchEvidence> catches,
            Limits limits,
            boolean outletsShut) {
        this.curve = curve;
        this.mix = mix;
        this.catches = catches;
        this.limits = limits;
        this.outletsShut = outletsShut;
    }

    List<Finding> findings() {
        List<Finding> findings = new ArrayList<>();
        silence().ifPresent(findings::add);
        Optional<Finding> scattering = scattering();
        scattering.ifPresent(findings::add);
        // Catches that do not repeat carry no shape either: which flow they count to is chance.
        if (scattering.isEmpty()) {
            curve.ifPresent(drawn -> findings.addAll(shape(drawn)));
        }
        return findings;
    }

    /** The mean meter error over the mix with the constant as it is, and its uncertainty. */
    private record MeanError(Ratio error, Ratio expanded) {
        boolean shown() {
            return error.magnitude().value() > expanded.value();
        }
    }

    private MeanError meanError(TruckCurve drawn) {
        Reading mean = ConstantFit.mean(drawn, mix);
        return error(drawn.constant(), mean);
    }

    private static MeanError error(TruckConstant constant, Reading reading) {
        Ratio error = constant.errorWith(constant.value(), reading.number());
        // A relative uncertainty of the number is one of 1 + error.
        return new MeanError(error, new Ratio(reading.expanded().value() * (1 + error.value())));
    }

    /** Wrong constant, non-linear meter and lost liquid are three readings of one curve. */
    private List<Finding> shape(TruckCurve drawn) {
        MeanError mean = meanError(drawn);
        Linearity linearity = drawn.linearity();
        boolean bent =
                linearity.halfWidth().value() > limits.linearity().value()
                        && linearity.halfWidth().value() > linearity.expanded().value();
        if (bent && !outletsShut) {
            Optional<Finding.Loss> loss = fixedLoss(drawn, linearity);
            if (loss.isPresent()) {
                return List.of(new Finding.LiquidElsewhere(mean.error, mean.expanded, loss));
            }
        }
        List<Finding> findings = new ArrayList<>();
        if (bent) {
            findings.add(
                    new Finding.NonLinear(
                            linearity,
                            limits.linearity(),
                            losesAtLow(drawn, linearity),
                            drawn.scatter().degreesOfFreedom() > 0));
        }
        // A constant that is right at one of the flows is not wrong: the meter is bent.
        boolean off = bent ? offEverywhere(drawn) : mean.shown();
        if (off && mean.error.value() > 0 && !outletsShut) {
            findings.add(new Finding.LiquidElsewhere(mean.error, mean.expanded, Optional.empty()));
        } else if (off) {
            findings.add(
                    new Finding.WrongConstant(
                            drawn.constant(), mean.error, mean.expanded, outletsShut));
        }
        return findings;
    }

    private static boolean losesAtLow(TruckCurve drawn, Linearity linearity) {
        boolean smallestFirst = linearity.lowest().compareTo(linearity.highest()) < 0;
        return smallestFirst == (drawn.constant().form() == TruckConstant.Form.PULSES_PER_VOLUME);
    }

    private static boolean offEverywhere(TruckCurve drawn) {
        double sign = 0;
        for (Station station : drawn.stations()) {
            MeanError error = error(drawn.constant(), drawn.at(station));
            if (!error.shown() || sign * error.error.value() < 0) {
                return false;
            }
            sign = error.error.value();
        }
        return true;
    }

    /**
     * A branch that takes the same flow whatever the truck does makes the reported flow a straight
     * line over the measured one that does not begin at zero: {@code reported = loss + slope x
     * measured}. It is one where the loss is beyond its uncertainty and what is left is straight
     * enough for a sound meter. Weighted least squares, weights by the random part of each flow.
     */
    private Optional<Finding.Loss> fixedLoss(TruckCurve drawn, Linearity linearity) {
        double s = 0;
        double x = 0;
        double y = 0;
        double xx = 0;
        double xy = 0;
        for (Station station : drawn.stations()) {
            double flow = station.flow().litresPerSecond();
            double random = Math.max(drawn.at(station).relativeRandom(), RANDOM_RATIO_LEAST) * flow;
            double weight = 1 / (random * random);
            double reported = reported(drawn, station);
            s += weight;
            x += weight * flow;
            y += weight * reported;
            xx += weight * flow * flow;
            xy += weight * flow * reported;
        }
        double determinant = s * xx - x * x;
        double loss = (xx * y - x * xy) / determinant;
        double expanded =
                Coverage.factor(Coverage.PROBABILITY, Double.POSITIVE_INFINITY)
                        * Math.sqrt(xx / determinant);
        double most = 0;
        double least = Double.POSITIVE_INFINITY;
        for (Station station : drawn.stations()) {
            double left = (reported(drawn, station) - loss) / station.flow().litresPerSecond();
            most = Math.max(most, left);
            least = Math.min(least, left);
        }
        double straight = Math.max(limits.linearity().value(), linearity.expanded().value());
        return loss > expanded && (most - least) / (most + least) <= straight
                ? Optional.of(new Finding.Loss(new FlowRate(loss), new FlowRate(expanded)))
                : Optional.empty();
    }

    private static double reported(TruckCurve drawn, Station station) {
        TruckConstant constant = drawn.constant();
        Ratio error = constant.errorWith(constant.value(), station.number());
        return station.flow().litresPerSecond() * (1 + error.value());
    }

    private Optional<Finding> scattering() {
        if (curve.isEmpty()) {
            return Optional.empty();
        }
        Scatter scatter = curve.get().scatter();
        int freedom = scatter.degreesOfFreedom();
        if (freedom == 0 || scatter.relativeObserved() <= limits.scatter().value()) {
            return Optional.empty();
        }
        double byChance =
                scatter.relativeStated()
                        * Math.sqrt(
                                new ChiSquaredDistribution(freedom)
                                                .inverseCumulativeProbability(1 - CHANCE)
                                        / freedom);
        return scatter.relativeObserved() > byChance
                ? Optional.of(new Finding.Scattering(scatter, limits.scatter()))
                : Optional.empty();
    }

    private Optional<Finding> silence() {
        CutOff cutOff = CutOff.of(catches);
        if (cutOff.silentUpTo().isEmpty()) {
            return Optional.empty();
        }
        FlowRate silent = cutOff.silentUpTo().get();
        return cutOff.countedFrom().filter(counted -> counted.compareTo(silent) > 0).isPresent()
                ? Optional.of(new Finding.LowFlowCutOff(silent, cutOff.countedFrom().get()))
                : Optional.of(new Finding.SilentMeter(silent, cutOff.countedFrom()));
    }

    Offer offer() {
        if (curve.isEmpty()) {
            return new Offer.Withheld(
                    "No constant: the steady catches make no curve; cure what is named above and"
                            + " repeat them.");
        }
        if (silence().orElse(null) instanceof Finding.SilentMeter) {
            return new Offer.Withheld("No constant before the meter counts at every flow.");
        }
        if (scattering().isPresent()) {
            return new Offer.Withheld("No constant before the catches repeat.");
        }
        return switch (ConstantFit.of(curve.get(), mix)) {
            case ConstantFit.NoneFits(String reason) -> new Offer.Withheld(reason);
            case ConstantFit.Fitted fitted -> offer(curve.get().constant(), fitted);
        };
    }

    private Offer offer(TruckConstant now, ConstantFit.Fitted fitted) {
        Ratio change = now.errorWith(now.value(), fitted.unrounded());
        Ratio expanded = fitted.mean().expanded();
        if (change.magnitude().value() <= expanded.value()) {
            return new Offer.Keep(
                    String.format(
                            Locale.ROOT,
                            "Leave the constant as it is: the best one differs by %.2f %%, within"
                                    + " its uncertainty of %.2f %%.",
                            change.magnitude().percent(),
                            expanded.percent()));
        }
        if (fitted.best().value() == now.value()) {
            return new Offer.Keep(
                    "Leave the constant as it is: the change is smaller than the controller's"
                            + " entry step of "
                            + now.written(now.step())
                            + ".");
        }
        return outletsShut
                ? new Offer.Enter(fitted)
                : new Offer.Withheld(
                        "No constant before somebody has seen that the recirculation branch and"
                                + " every other outlet were shut during these catches.");
    }
}
