package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;

import catchbay.metrology.CatchEvidence.ShownSpeed;
import catchbay.metrology.Diagnosis.Limits;
import catchbay.quantity.Pressure;
import catchbay.quantity.Speed;
import catchbay.seeded.Seeds;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.random.RandomGenerator;

/**
 * Trucks drawn from a seed with one known cause each: that cause is named, and no other. The bay's
 * errors are drawn within what it states of itself; the causes are drawn large enough to matter.
 * Everything here is invented.
 */
final class KnownCauseTest {

    private static final double COMMON = 0.002;
    private static final double RANDOM = 0.0015;
    private static final double REPORTED = 0.0005;
    private static final double PLAYED_MPH = 30;

    private static final Limits LIMITS =
            new Limits(
                    Limits.USUAL.linearity(),
                    Limits.USUAL.follow(),
                    Limits.USUAL.scatter(),
                    Limits.USUAL.speed(),
                    Limits.USUAL.speedStep(),
                    Optional.of(Pressure.ofPsi(2)),
                    Optional.of(Pressure.ofPsi(15)),
                    Optional.of(Pressure.ofPsi(5)));

    private enum Cause {
        NONE(null),
        WRONG_CONSTANT("wrong_constant"),
        WORN("worn_or_non_linear_meter"),
        CUT_OFF("low_flow_cut_off"),
        SILENT("silent_meter"),
        FOLLOW("cannot_follow"),
        CLAMP_UPPER("rate_clamp_upper"),
        CLAMP_LOWER("rate_clamp_lower"),
        SPEED("speed_input_wrong"),
        AIR("air_or_unsteady_flow"),
        SCATTER("scatter"),
        LEAK_OF_A_SHARE("liquid_elsewhere"),
        LEAK_OF_A_FLOW("liquid_elsewhere"),
        RESTRICTION("bay_restriction");

        private final String key;

        Cause(String key) {
            this.key = key;
        }
    }

    /** One truck with its catches; what is not set is sound. */
    private static final class Truck {
        private final RandomGenerator random;
        private final TruckConstant constant;
        private final double bias;
        private final List<CurvePoint> points = new ArrayList<>();
        private final List<CatchEvidence> catches = new ArrayList<>();

        /** Pulses that the meter gives for what is right for the entered constant. */
        double gain = 1;

        /** Share of the pulses lost at 5 US gal/min; falls with the square of the flow. */
        double worn;

        double lostShare;
        double lostFlow;
        double noise;
        double shownOverPlayed = 1;

        Truck(RandomGenerator random) {
            this.random = random;
            this.constant =
                    List.of(Trucks.PULSES, Trucks.VOLUME, Trucks.PERCENT).get(random.nextInt(3));
            this.bias = within(COMMON);
        }

        private double within(double bound) {
            return bound * (2 * random.nextDouble() - 1);
        }

        double between(double least, double most) {
            return least + (most - least) * random.nextDouble();
        }

        /** A catch at which the truck's pump gives this flow while another one is asked for. */
        void caught(double asked, double through, boolean silent, String air, double couplerPsi) {
            double gainHere = gain * (1 - worn * 25 / (through * through));
            double arrives = (through - lostFlow) * (1 - lostShare);
            double measured = arrives * (1 + bias + within(RANDOM) + within(noise));
            double reported = silent ? 0 : through * gainHere * (1 + within(REPORTED));
            String run = "run-" + catches.size();
            Comparison comparison =
                    Trucks.comparison(
                            asked / shownOverPlayed, reported, REPORTED, measured, COMMON);
            catches.add(
                    new CatchEvidence(
                            run,
                            Trucks.flow(measured),
                            comparison,
                            ConstantAdvice.Control.CLOSED_ON_METER,
                            Optional.ofNullable(air),
                            true,
                            Optional.of(
                                    new ShownSpeed(
                                            Speed.ofMilesPerHour(
                                                    Math.round(10 * PLAYED_MPH * shownOverPlayed)
                                                            / 10.0),
                                            Speed.ofMilesPerHour(PLAYED_MPH),
                                            40_000)),
                            Optional.of(Pressure.ofPsi(couplerPsi)),
                            Optional.of(Pressure.ofPsi(1))));
            if (!silent && air == null) {
                points.add(
                        new CurvePoint(
                                run,
                                Trucks.DAY,
                                Trucks.flow(measured),
                                constant.curing(
                                        comparison.reported().volume(),
                                        comparison.measured().volume()),
                                Math.hypot(RANDOM, REPORTED),
                                Double.POSITIVE_INFINITY,
                                0,
                                COMMON,
                                "R-7"));
            }
        }

        /** The controller, closed on its meter, reports what it takes for asked. */
        void follows(double asked) {
            double through = asked / gain;
            for (int i = 0; i < 20; i++) {
                through = asked / gain / (1 - worn * 25 / (through * through));
            }
            caught(asked, through, false, null, 8);
        }
    }

    private static final double[] FLOWS = {5, 10, 20, 35, 50, 70};

    private static void drive(Cause cause, Truck truck) {
        RandomGenerator random = truck.random;
        int repeats = 1 + random.nextInt(3);
        int sign = random.nextBoolean() ? 1 : -1;
        int at = random.nextInt(FLOWS.length);
        double far = truck.between(0.1, 0.2);
        switch (cause) {
            case WRONG_CONSTANT -> truck.gain = 1 + sign * truck.between(0.02, 0.2);
            case WORN -> truck.worn = truck.between(0.08, 0.3);
            case SPEED -> truck.shownOverPlayed = 1 + sign * truck.between(0.03, 0.2);
            case SCATTER -> truck.noise = truck.between(0.04, 0.08);
            case LEAK_OF_A_SHARE -> truck.lostShare = truck.between(0.02, 0.2);
            case LEAK_OF_A_FLOW -> truck.lostFlow = truck.between(0.4, 1.5);
            case NONE, CUT_OFF, SILENT, FOLLOW, CLAMP_UPPER, CLAMP_LOWER, AIR, RESTRICTION -> {}
        }
        int runs = cause == Cause.SCATTER ? 5 : repeats;
        for (int i = 0; i < FLOWS.length * runs; i++) {
            int which = i % FLOWS.length;
            double asked = FLOWS[which];
            boolean here = which == at;
            switch (cause) {
                case CUT_OFF -> {
                    if (which <= at % 3) {
                        truck.caught(asked, asked, true, null, 8);
                    } else {
                        truck.follows(asked);
                    }
                }
                case SILENT -> truck.caught(asked, asked, which == 1 + at % 5, null, 8);
                case FOLLOW -> {
                    double given = here ? asked * (1 + (asked == 70 ? -1 : sign) * far) : asked;
                    truck.caught(asked, given, false, null, 8);
                }
                case CLAMP_UPPER ->
                        truck.caught(asked, Math.min(asked, 35 + 10 * far), false, null, 8);
                case CLAMP_LOWER ->
                        truck.caught(asked, Math.max(asked, 15 - 10 * far), false, null, 8);
                case AIR -> {
                    if (here) {
                        truck.caught(asked, asked * (1 - far), false, "the flow was unsteady", 8);
                    } else {
                        truck.follows(asked);
                    }
                }
                case RESTRICTION -> {
                    if (which >= 3) {
                        truck.caught(asked, asked * (1 - far), false, null, 16 + 10 * far);
                    } else {
                        truck.follows(asked);
                    }
                }
                case NONE, WRONG_CONSTANT, WORN, SPEED, SCATTER, LEAK_OF_A_SHARE, LEAK_OF_A_FLOW ->
                        truck.follows(asked);
            }
        }
    }

    @ParameterizedTest
    @EnumSource(Cause.class)
    void theCauseIsNamedAndNoOther(Cause cause) {
        Seeds.forSeeds(
                400,
                random -> {
                    Truck truck = new Truck(random);
                    drive(cause, truck);
                    boolean leaks = cause == Cause.LEAK_OF_A_SHARE || cause == Cause.LEAK_OF_A_FLOW;
                    Diagnosis diagnosis =
                            Diagnosis.of(
                                    Optional.of(Trucks.drawn(truck.constant, truck.points)),
                                    FlowMix.EVEN,
                                    truck.catches,
                                    LIMITS,
                                    leaks ? Optional.empty() : Optional.of("M. Example"));
                    assertEquals(
                            cause.key == null ? List.of() : List.of(cause.key),
                            diagnosis.findings().stream().map(Finding::key).toList(),
                            () ->
                                    diagnosis.findings().stream()
                                            .map(Finding::sentence)
                                            .toList()
                                            .toString());
                });
    }
}
