package catchbay.metrology;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Ratio;
import catchbay.quantity.VolumeUnit;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * The right number of a truck's meter against flow, with its uncertainty: means of the catches at
 * each flow, straight lines between them, nothing outside. Source: src/docs/method.md, "Truck meter
 * over the flow range".
 *
 * @param constant the truck's constant as it is entered now
 * @param stations at least {@link #FLOWS_MIN}, flows rising
 * @param scatter how the catches at one flow lie apart
 */
public record TruckCurve(TruckConstant constant, List<Station> stations, Scatter scatter) {

    /** Flows no further apart than this share are one flow. Common practice, no source. */
    public static final double SAME_FLOW_RATIO = 0.05;

    /**
     * Fewest flows of a curve: a low, a middle and a high one, as water-meter rules test (COMAR
     * 20.70.06.03).
     */
    public static final int FLOWS_MIN = 3;

    /**
     * The catches at one flow.
     *
     * @param flow mean of the measured flows
     * @param number mean of the right numbers
     * @param catches how many
     * @param relativeStated standard uncertainty of the mean from what the bay states as random
     * @param statedDegreesOfFreedom how well that is known, of the catch where it is known least
     * @param relativeDay standard uncertainty shared by catches of a day, not divided
     * @param relativeCommon standard uncertainty shared by all, not divided
     * @param days when they were
     * @param instruments what measured them
     */
    public record Station(
            FlowRate flow,
            double number,
            int catches,
            double relativeStated,
            double statedDegreesOfFreedom,
            double relativeDay,
            double relativeCommon,
            Set<LocalDate> days,
            Set<String> instruments) {}

    /**
     * How catches at one flow lie apart, pooled over the flows that were caught more than once.
     *
     * @param relativeObserved standard deviation of one catch as seen; 0 without repeats
     * @param relativeStated what the bay's own random uncertainty explains of it
     * @param degreesOfFreedom of what was seen; 0 without repeats
     */
    public record Scatter(double relativeObserved, double relativeStated, int degreesOfFreedom) {
        /** The part that the bay does not explain: the truck meter's own repeatability. */
        public double relativeOwn() {
            return Math.sqrt(
                    Math.max(
                            0,
                            relativeObserved * relativeObserved - relativeStated * relativeStated));
        }
    }

    /**
     * What the curve says of a flow, or of a mix of flows.
     *
     * @param number the right number
     * @param relativeRandom standard uncertainty from catch to catch
     * @param relativeCommon standard uncertainty that all catches, or all of a day, share
     * @param degreesOfFreedom effective (Welch-Satterthwaite), >= 1, may be infinite
     */
    public record Reading(
            double number, double relativeRandom, double relativeCommon, double degreesOfFreedom) {
        /** Half of the 95 % band as a ratio of the number. */
        public Ratio expanded() {
            double standard =
                    Math.sqrt(relativeRandom * relativeRandom + relativeCommon * relativeCommon);
            return new Ratio(
                    Coverage.factor(Coverage.PROBABILITY, Coverage.truncated(degreesOfFreedom))
                            * standard);
        }
    }

    /**
     * How far the meter is from one number for all flows: (max - min) / (max + min), half the width
     * of the curve about its middle. The usual form for turbine meters (ISA-RP31.1, API MPMS 5.3;
     * from memory). It is what the best minimax constant leaves.
     *
     * @param halfWidth the linearity
     * @param expanded its uncertainty, widened for having picked the furthest of all pairs
     * @param lowest the flow of the smallest number
     * @param highest the flow of the largest number
     */
    public record Linearity(Ratio halfWidth, Ratio expanded, FlowRate lowest, FlowRate highest) {}

    /** Whether a curve could be drawn. */
    public sealed interface Drawing {
        /** The curve. */
        record Drawn(TruckCurve curve) implements Drawing {}

        /** Too few flows, for the reason given as a sentence. */
        record TooFew(String reason) implements Drawing {}
    }

    public TruckCurve {
        stations = List.copyOf(stations);
        if (stations.size() < FLOWS_MIN) {
            throw new IllegalArgumentException(
                    "a truck curve needs " + FLOWS_MIN + " flows, has " + stations.size());
        }
    }

    /** Draws the curve through all points given, none left out. */
    public static Drawing through(TruckConstant constant, List<CurvePoint> points) {
        List<List<CurvePoint>> groups = byFlow(points);
        if (groups.size() < FLOWS_MIN) {
            return new Drawing.TooFew(
                    String.format(
                            Locale.ROOT,
                            "%d catch%s at %d flow%s%s make no curve; at least %d flows more than"
                                    + " %.0f %% apart are needed, a low, a middle and a high one",
                            points.size(),
                            points.size() == 1 ? "" : "es",
                            groups.size(),
                            groups.size() == 1 ? "" : "s",
                            shown(groups),
                            FLOWS_MIN,
                            SAME_FLOW_RATIO * 100));
        }
        List<Station> stations = new ArrayList<>();
        groups.forEach(group -> stations.add(station(group)));
        return new Drawing.Drawn(new TruckCurve(constant, stations, scatter(groups)));
    }

    private static String shown(List<List<CurvePoint>> groups) {
        List<String> flows = new ArrayList<>();
        groups.forEach(group -> flows.add(gallonsPerMinute(station(group).flow)));
        return flows.isEmpty() ? "" : " (" + String.join(", ", flows) + ")";
    }

    /** A flow for a sentence. */
    static String gallonsPerMinute(FlowRate flow) {
        return String.format(Locale.ROOT, "%.4g US gal/min", flow.perMinute(VolumeUnit.US_GALLON));
    }

    private static List<List<CurvePoint>> byFlow(List<CurvePoint> points) {
        List<CurvePoint> rising = new ArrayList<>(points);
        // By run too, so that the order of the arguments is not in the last digit of a sum.
        rising.sort(Comparator.comparing(CurvePoint::flow).thenComparing(CurvePoint::run));
        List<List<CurvePoint>> groups = new ArrayList<>();
        for (CurvePoint point : rising) {
            if (groups.isEmpty()
                    || point.flow().litresPerSecond()
                            > (1 + SAME_FLOW_RATIO)
                                    * groups.getLast().getFirst().flow().litresPerSecond()) {
                groups.add(new ArrayList<>());
            }
            groups.getLast().add(point);
        }
        return groups;
    }

    private static Station station(List<CurvePoint> group) {
        double flow = 0;
        double number = 0;
        double random = 0;
        double freedom = Double.POSITIVE_INFINITY;
        double day = 0;
        double common = 0;
        int n = group.size();
        for (CurvePoint point : group) {
            flow += point.flow().litresPerSecond() / n;
            number += point.number() / n;
            random += square(point.relativeRandom());
            freedom = Math.min(freedom, point.randomDegreesOfFreedom());
            day += point.relativeDay() / n;
            common += point.relativeCommon() / n;
        }
        return new Station(
                new FlowRate(flow),
                number,
                n,
                Math.sqrt(random) / n,
                freedom,
                day,
                common,
                group.stream().map(CurvePoint::day).collect(Collectors.toSet()),
                group.stream().map(CurvePoint::instrument).collect(Collectors.toSet()));
    }

    private static Scatter scatter(List<List<CurvePoint>> groups) {
        double observed = 0;
        double stated = 0;
        int freedom = 0;
        for (List<CurvePoint> group : groups) {
            double mean = station(group).number;
            double kept = 1 - 1.0 / group.size();
            for (CurvePoint point : group) {
                double apart = (point.number() - mean) / mean;
                observed += apart * apart;
                stated += kept * point.relativeRandom() * point.relativeRandom();
            }
            freedom += group.size() - 1;
        }
        return freedom == 0
                ? new Scatter(0, 0, 0)
                : new Scatter(Math.sqrt(observed / freedom), Math.sqrt(stated / freedom), freedom);
    }

    /** What the curve says of a flow; empty outside the tested flows. */
    public Optional<Reading> at(FlowRate flow) {
        return shares(flow).map(this::combined);
    }

    /** What the curve says of one of its own flows. */
    public Reading at(Station station) {
        double[] shares = new double[stations.size()];
        shares[stations.indexOf(station)] = 1;
        return combined(shares);
    }

    /**
     * How much of each station stands in the curve at a flow: two neighbours of the straight line
     * between them. A flow that is one flow with the first or last station has its number.
     */
    Optional<double[]> shares(FlowRate flow) {
        double asked = flow.litresPerSecond();
        int last = stations.size() - 1;
        double[] shares = new double[stations.size()];
        double least = litresPerSecond(0);
        double most = litresPerSecond(last);
        if (asked * (1 + SAME_FLOW_RATIO) < least || asked > most * (1 + SAME_FLOW_RATIO)) {
            return Optional.empty();
        }
        if (asked <= least || asked >= most) {
            shares[asked <= least ? 0 : last] = 1;
            return Optional.of(shares);
        }
        int above = 1;
        while (litresPerSecond(above) < asked) {
            above++;
        }
        double low = litresPerSecond(above - 1);
        shares[above] = (asked - low) / (litresPerSecond(above) - low);
        shares[above - 1] = 1 - shares[above];
        return Optional.of(shares);
    }

    private double litresPerSecond(int station) {
        return stations.get(station).flow.litresPerSecond();
    }

    /** The reading of a mix of stations; the shares are >= 0 and sum to 1. */
    Reading combined(double[] shares) {
        double number = 0;
        double day = 0;
        double common = 0;
        RandomPart random = new RandomPart();
        for (int i = 0; i < shares.length; i++) {
            Station station = stations.get(i);
            number += shares[i] * station.number;
            day += shares[i] * station.relativeDay;
            common += shares[i] * station.relativeCommon;
            random.add(station, shares[i]);
        }
        double shared = square(day) + square(common);
        return new Reading(
                number,
                Math.sqrt(random.variance()),
                Math.sqrt(shared),
                random.degreesOfFreedom(random.variance() + shared));
    }

    /**
     * The random part of a sum of stations. What the bay states and what the repeats show are each
     * known once for all stations, so that their parts of several stations are no independent terms
     * of Welch-Satterthwaite's formula (JCGM 100:2008, G.4.1).
     */
    private final class RandomPart {
        private double stated;
        private double statedFreedom = Double.POSITIVE_INFINITY;
        private double own;
        private double observed;

        void add(Station station, double share) {
            double repeated = square(share) / station.catches;
            stated += square(share * station.relativeStated);
            if (share != 0) {
                statedFreedom = Math.min(statedFreedom, station.statedDegreesOfFreedom);
            }
            own += repeated * square(scatter.relativeOwn());
            observed += repeated * square(scatter.relativeObserved);
        }

        double variance() {
            return stated + own;
        }

        /** Effective ones of a variance that holds this part; what else is in it is known well. */
        double degreesOfFreedom(double whole) {
            double sum = square(stated) / statedFreedom;
            sum += own > 0 ? square(observed) / scatter.degreesOfFreedom : 0;
            return sum == 0 ? Double.POSITIVE_INFINITY : Math.max(1, square(whole) / sum);
        }
    }

    /** How far the meter is from one number for all flows. */
    public Linearity linearity() {
        Station low = stations.getFirst();
        Station high = low;
        for (Station station : stations) {
            low = station.number < low.number ? station : low;
            high = station.number > high.number ? station : high;
        }
        double width = (high.number - low.number) / (high.number + low.number);
        RandomPart random = new RandomPart();
        random.add(low, 1);
        random.add(high, 1);
        double variance = random.variance();
        // What the catches of one instrument or one day share cancels in a difference; of two
        // it does not.
        if (!oneAndTheSame(low.instruments, high.instruments)) {
            variance += square(low.relativeCommon) + square(high.relativeCommon);
        }
        if (!oneAndTheSame(low.days, high.days)) {
            variance += square(low.relativeDay) + square(high.relativeDay);
        }
        int pairs = stations.size() * (stations.size() - 1) / 2;
        double covered = 1 - (1 - Coverage.PROBABILITY) / pairs;
        double factor =
                Coverage.factor(covered, Coverage.truncated(random.degreesOfFreedom(variance)));
        return new Linearity(
                new Ratio(width), new Ratio(factor * Math.sqrt(variance) / 2), low.flow, high.flow);
    }

    private static boolean oneAndTheSame(Set<?> one, Set<?> other) {
        return one.size() == 1 && one.equals(other);
    }

    private static double square(double value) {
        return value * value;
    }
}
