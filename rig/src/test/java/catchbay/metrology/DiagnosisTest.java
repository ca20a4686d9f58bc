package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.ConstantAdvice.Control;
import catchbay.metrology.Diagnosis.Limits;
import catchbay.metrology.Diagnosis.Offer;
import catchbay.quantity.Pressure;
import catchbay.quantity.Ratio;
import catchbay.quantity.Speed;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * Which findings a set of catches leads to, and which of them keep others from being said. Invented
 * trucks; flows in US gal/min.
 */
final class DiagnosisTest {

    /** A band like the road's for the coupler, and a strainer's limit. */
    private static final Limits BANDED =
            new Limits(
                    Limits.USUAL.linearity(),
                    Limits.USUAL.follow(),
                    Limits.USUAL.scatter(),
                    Limits.USUAL.speed(),
                    Limits.USUAL.speedStep(),
                    Optional.of(Pressure.ofPsi(2)),
                    Optional.of(Pressure.ofPsi(15)),
                    Optional.of(Pressure.ofPsi(5)));

    private static final Optional<String> SHUT = Optional.of("M. Example");
    private static final Optional<String> NOBODY = Optional.empty();

    private record Case(
            String name,
            List<CatchEvidence> catches,
            Optional<String> shutBy,
            List<String> keys,
            Class<? extends Offer> offer,
            String says) {
        @Override
        public String toString() {
            return name;
        }
    }

    /** A catch that reports what is asked and measures what is reported. */
    private static CatchEvidence good(double flow) {
        return Trucks.caught("at-" + flow, flow, flow, flow);
    }

    private static CatchEvidence off(double asked, double reported, double measured) {
        return Trucks.caught("at-" + asked, asked, reported, measured);
    }

    private static CatchEvidence unsteady(CatchEvidence of) {
        return new CatchEvidence(
                of.run(),
                of.flow(),
                of.comparison(),
                of.control(),
                Optional.of("the flow was unsteady during the catch"),
                of.speedPlayed(),
                of.speed(),
                of.coupler(),
                of.strainerDrop());
    }

    private static CatchEvidence played(CatchEvidence of, double shownMph) {
        Optional<CatchEvidence.ShownSpeed> shown =
                shownMph == 0
                        ? Optional.empty()
                        : Optional.of(
                                new CatchEvidence.ShownSpeed(
                                        Speed.ofMilesPerHour(shownMph),
                                        Speed.ofMilesPerHour(30),
                                        50_000));
        return new CatchEvidence(
                of.run(),
                of.flow(),
                of.comparison(),
                of.control(),
                of.disturbance(),
                true,
                shown,
                of.coupler(),
                of.strainerDrop());
    }

    private static CatchEvidence pressed(CatchEvidence of, double coupler, double strainer) {
        return new CatchEvidence(
                of.run(),
                of.flow(),
                of.comparison(),
                of.control(),
                of.disturbance(),
                of.speedPlayed(),
                of.speed(),
                Optional.of(Pressure.ofPsi(coupler)),
                Optional.of(Pressure.ofPsi(strainer)));
    }

    private static CatchEvidence open(CatchEvidence of) {
        return new CatchEvidence(
                of.run(),
                of.flow(),
                of.comparison(),
                Control.OPEN_LOOP,
                of.disturbance(),
                of.speedPlayed(),
                of.speed(),
                of.coupler(),
                of.strainerDrop());
    }

    private static List<CatchEvidence> of(CatchEvidence... catches) {
        return Arrays.asList(catches);
    }

    private static Optional<TruckCurve> curve(List<CatchEvidence> catches) {
        List<CurvePoint> points = new ArrayList<>();
        for (CatchEvidence evidence : catches) {
            Comparison comparison = evidence.comparison();
            if (evidence.disturbance().isEmpty() && !evidence.silent()) {
                points.add(
                        CurvePoint.of(
                                evidence.run(),
                                Trucks.DAY,
                                evidence.flow(),
                                comparison,
                                Trucks.PULSES,
                                "R-7"));
            }
        }
        return switch (TruckCurve.through(Trucks.PULSES, points)) {
            case TruckCurve.Drawing.Drawn(TruckCurve drawn) -> Optional.of(drawn);
            case TruckCurve.Drawing.TooFew few -> Optional.empty();
        };
    }

    private static Diagnosis diagnosis(List<CatchEvidence> catches, Optional<String> shutBy) {
        return Diagnosis.of(curve(catches), FlowMix.EVEN, catches, BANDED, shutBy);
    }

    private static final List<CatchEvidence> SOUND = of(good(5), good(20), good(60));
    private static final List<CatchEvidence> OVER =
            of(off(5, 5, 4.75), off(20, 20, 19), off(60, 60, 57));
    private static final List<CatchEvidence> UNDER =
            of(off(5, 5, 5.25), off(20, 20, 21), off(60, 60, 63));

    /** At low flow the meter loses pulses: the truck puts down more than it reports. */
    private static final List<CatchEvidence> WORN =
            of(off(5, 5, 5.6), off(20, 20, 20.2), off(60, 60, 60));

    /** Half a gallon a minute goes back to the tank behind the meter. */
    // Its least squares by hand: weights 1/(0.001 q)^2, u(loss) = sqrt(sum(w q^2) / determinant).
    private static final List<CatchEvidence> LOSING =
            of(off(5, 5, 4.5), off(20, 20, 19.5), off(60, 60, 59.5));

    private static Stream<Case> one() {
        return Stream.of(
                new Case("sound", SOUND, SHUT, List.of(), Offer.Keep.class, null),
                new Case("sound, nobody looked", SOUND, NOBODY, List.of(), Offer.Keep.class, null),
                new Case(
                        "wrong constant",
                        OVER,
                        SHUT,
                        List.of("wrong_constant"),
                        Offer.Enter.class,
                        "Wrong constant: with 600 pulses/US gal the controller reports 5.26 % more"
                                + " (+-0.43 %) than the bay measured, at all tested flows alike."),
                new Case(
                        "worn meter",
                        WORN,
                        SHUT,
                        List.of("worn_or_non_linear_meter"),
                        Offer.Enter.class,
                        "Worn or non-linear meter: its constant differs by +-5.66 % (+-0.17 %,"
                            + " limit 2.00 %) between 5.600 US gal/min and 60.00 US gal/min; no"
                            + " single constant cures that. It loses pulses at low flow, as a worn,"
                            + " dragging or fouled meter does. No flow was caught twice, so only"
                            + " the planned scatter is in this: repeat one."),
                new Case(
                        "low-flow cut-off",
                        of(off(2, 0, 3), good(5), good(20), good(60)),
                        SHUT,
                        List.of("low_flow_cut_off"),
                        Offer.Keep.class,
                        "Low-flow cut-off: the meter gave nothing up to 3.000 US gal/min and"
                                + " counted from 5.000 US gal/min on; below that the truck puts"
                                + " down liquid that it does not report."),
                new Case(
                        "silent meter",
                        of(good(5), good(20), off(40, 0, 40), good(60)),
                        SHUT,
                        List.of("silent_meter"),
                        Offer.Withheld.class,
                        "Silent meter: it gave nothing at 40.00 US gal/min though it counted at"
                                + " 5.000 US gal/min; check its wire, supply and rotor before"
                                + " anything else."),
                new Case(
                        "dead meter",
                        of(off(5, 0, 5), off(20, 0, 20), off(60, 0, 60)),
                        SHUT,
                        List.of("silent_meter"),
                        Offer.Withheld.class,
                        "Silent meter: it gave nothing at 60.00 US gal/min, nor at any other"
                                + " tested flow; check its wire, supply and rotor before anything"
                                + " else."),
                new Case(
                        "cannot follow",
                        of(good(5), good(20), good(40), off(60, 48, 48)),
                        SHUT,
                        List.of("cannot_follow"),
                        Offer.Keep.class,
                        "Controller or hydraulics cannot follow: asked for 60.00 US gal/min, the"
                                + " truck reported 20.00 % less (+-0.16 %, limit 5.00 %). A new"
                                + " constant does not cure it: look at pump, valve, nozzles,"
                                + " strainers and hydraulic supply of the truck."),
                new Case(
                        "upper clamp",
                        of(good(5), good(20), good(40), off(50, 40, 40), off(60, 40.2, 40.2)),
                        SHUT,
                        List.of("rate_clamp_upper"),
                        Offer.Keep.class,
                        "Rate clamp: reported and measured flow stop rising at 40.20 US gal/min"
                                + " (40.20 US gal/min measured) while the asked one goes on from"
                                + " 40.00 US gal/min to 60.00 US gal/min. Compare with the highest"
                                + " rate set in the controller and with what pump and valve can"
                                + " give at most."),
                new Case(
                        "lower clamp",
                        of(off(2, 5, 5), off(3, 5, 5), good(5.2), good(20), good(60)),
                        SHUT,
                        List.of("rate_clamp_lower"),
                        Offer.Keep.class,
                        "Rate clamp: reported and measured flow stop falling at 5.000 US gal/min"
                                + " (5.000 US gal/min measured) while the asked one goes on from"
                                + " 3.000 US gal/min to 2.000 US gal/min. Compare with the lowest"
                                + " rate set in the controller and with the valve's smallest"
                                + " opening."),
                new Case(
                        "speed input",
                        of(
                                played(off(5, 4.5, 4.5), 27),
                                played(off(20, 18, 18), 27),
                                played(off(60, 54, 54), 27)),
                        SHUT,
                        List.of("speed_input_wrong"),
                        Offer.Keep.class,
                        "Speed input wrong: the controller showed 27.0 mph where 30.0 mph was"
                                + " played (-10.00 %, +-0.17 %); it works with about 55556 pulses"
                                + " per mile where 50000 were played. This speaks of the"
                                + " controller's constant only: the truck's real speed sensor was"
                                + " not tested, check it over a measured mile."),
                new Case(
                        "unsteady at one flow",
                        of(good(5), good(20), good(40), unsteady(off(60, 60, 45))),
                        SHUT,
                        List.of("air_or_unsteady_flow"),
                        Offer.Keep.class,
                        "Air or unsteady flow in 1 of 4 catches; at 45.00 US gal/min the flow was"
                                + " unsteady during the catch. Look for air at the tank's outlet,"
                                + " leaking suction lines and a hunting valve, and repeat; these"
                                + " catches have no part in the curve."),
                new Case(
                        "scatter",
                        of(
                                Trucks.caught("a", 5, 5, 4.8),
                                Trucks.caught("b", 5, 5, 4.85),
                                Trucks.caught("c", 5, 5, 4.65),
                                Trucks.caught("d", 20, 20, 19.6),
                                Trucks.caught("e", 20, 20, 19),
                                good(60)),
                        SHUT,
                        List.of("scatter"),
                        Offer.Withheld.class,
                        "Air or unsteady flow: repeats at one flow scatter by 2.20 % (standard"
                                + " deviation, degrees of freedom: 3) where the bay explains 0.10"
                                + " %, limit 1.00 %. Look for air, a loose wire and a sticking"
                                + " meter before entering a constant."),
                new Case(
                        "liquid elsewhere, same share at all flows",
                        OVER,
                        NOBODY,
                        List.of("liquid_elsewhere"),
                        Offer.Withheld.class,
                        "Wrong constant, or liquid that passed the truck's meter and did not reach"
                                + " the bay: the controller reports 5.26 % more (+-0.43 %) than"
                                + " the bay measured, and both look the same. Shut the"
                                + " recirculation branch and every other outlet, look for leaks,"
                                + " and have it confirmed; before that no constant is offered."),
                new Case(
                        "liquid elsewhere, a branch",
                        LOSING,
                        NOBODY,
                        List.of("liquid_elsewhere"),
                        Offer.Withheld.class,
                        "Liquid may go elsewhere: at every flow about 0.5000 US gal/min"
                                + " (+-0.01260 US gal/min) passed the truck's meter and did not"
                                + " reach the bay. Shut the recirculation branch and every other"
                                + " outlet, look for leaks, and have it confirmed; before that no"
                                + " constant is offered."),
                new Case(
                        "bay restriction",
                        of(
                                pressed(good(5), 5, 1),
                                pressed(good(20), 8, 2),
                                pressed(good(60), 22, 6)),
                        SHUT,
                        List.of("bay_restriction"),
                        Offer.Keep.class,
                        "Bay restriction: at 60.00 US gal/min (run at-60.0) the coupler was at 22.0"
                            + " psi, above the 15.0 psi that is like the road and the drop over the"
                            + " strainer was at 6.0 psi, above the 5.0 psi that is like the road."
                            + " Whether the truck can follow there was not judged: clean the"
                            + " strainer, open the bay's valves and repeat."));
    }

    /** What one finding keeps from being said, and what stands side by side. */
    private static Stream<Case> together() {
        List<CatchEvidence> wornAndOff = of(off(5, 5, 5.1), off(20, 20, 18.4), off(60, 60, 54));
        return Stream.of(
                new Case(
                        "under-reading is no leak, and still waits for the outlets",
                        UNDER,
                        NOBODY,
                        List.of("wrong_constant"),
                        Offer.Withheld.class,
                        null),
                new Case(
                        "with the outlets shut a branch's curve is the meter's own",
                        LOSING,
                        SHUT,
                        List.of("worn_or_non_linear_meter", "wrong_constant"),
                        Offer.Enter.class,
                        null),
                new Case(
                        "a worn meter's curve is no branch's",
                        WORN,
                        NOBODY,
                        List.of("worn_or_non_linear_meter"),
                        Offer.Withheld.class,
                        null),
                new Case(
                        "a constant that is right at one flow is not wrong",
                        wornAndOff,
                        SHUT,
                        List.of("worn_or_non_linear_meter"),
                        Offer.Enter.class,
                        null),
                new Case(
                        "one that is wrong at all of them is wrong too",
                        of(off(5, 5, 4.8), off(20, 20, 18.4), off(60, 60, 54)),
                        SHUT,
                        List.of("worn_or_non_linear_meter", "wrong_constant"),
                        Offer.Enter.class,
                        null),
                new Case(
                        "what the bay chokes is not the truck's",
                        of(good(5), good(20), good(40), pressed(off(60, 48, 48), 22, 1)),
                        SHUT,
                        List.of("bay_restriction"),
                        Offer.Keep.class,
                        null),
                new Case(
                        "nor its clamp",
                        of(
                                good(5),
                                good(20),
                                pressed(off(50, 40, 40), 22, 1),
                                pressed(off(60, 40, 40), 22, 1)),
                        SHUT,
                        List.of("bay_restriction"),
                        Offer.Keep.class,
                        null),
                new Case(
                        "a choked catch hides no other",
                        of(good(5), off(20, 15, 15), good(40), pressed(off(60, 48, 48), 22, 1)),
                        SHUT,
                        List.of("bay_restriction", "cannot_follow"),
                        Offer.Keep.class,
                        null),
                new Case(
                        "too little pressure is no road either",
                        of(good(5), good(20), pressed(off(60, 70, 70), 1, 1)),
                        SHUT,
                        List.of("bay_restriction"),
                        Offer.Keep.class,
                        null),
                new Case(
                        "a wrong speed explains no more than its share",
                        of(
                                played(off(5, 4.5, 4.5), 27),
                                played(off(20, 18, 18), 27),
                                played(off(60, 40, 40), 27)),
                        SHUT,
                        List.of("speed_input_wrong", "cannot_follow"),
                        Offer.Keep.class,
                        "Controller or hydraulics cannot follow: asked for 54.00 US gal/min, the"
                                + " truck reported 25.93 % less (+-0.15 %, limit 5.00 %). A new"
                                + " constant does not cure it: look at pump, valve, nozzles,"
                                + " strainers and hydraulic supply of the truck."),
                new Case(
                        "a speed that nobody wrote down is mentioned",
                        of(
                                played(off(5, 4.5, 4.5), 0),
                                played(off(20, 18, 18), 0),
                                played(off(60, 54, 54), 0)),
                        SHUT,
                        List.of("cannot_follow"),
                        Offer.Keep.class,
                        "Controller or hydraulics cannot follow: asked for 20.00 US gal/min, the"
                                + " truck reported 10.00 % less (+-0.18 %, limit 5.00 %), and was"
                                + " off in 2 more. A new constant does not cure it: look at pump,"
                                + " valve, nozzles, strainers and hydraulic supply of the truck. A"
                                + " wrong pulses-per-mile constant looks the same: write down the"
                                + " speed that the controller shows during a catch."),
                new Case(
                        "a right speed rules it out",
                        of(
                                played(off(5, 4.5, 4.5), 30),
                                played(off(20, 18, 18), 30),
                                played(off(60, 54, 54), 30.1)),
                        SHUT,
                        List.of("cannot_follow"),
                        Offer.Keep.class,
                        null),
                new Case(
                        "clamped catches are not counted as missed, the others are",
                        of(off(5, 4, 4), good(20), good(40), off(50, 40, 40), off(60, 40, 40)),
                        SHUT,
                        List.of("rate_clamp_upper", "cannot_follow"),
                        Offer.Keep.class,
                        null),
                new Case(
                        "an unsteady catch says nothing of following",
                        of(good(5), good(20), good(40), unsteady(off(60, 40, 40))),
                        SHUT,
                        List.of("air_or_unsteady_flow"),
                        Offer.Keep.class,
                        null),
                new Case(
                        "nor does a silent one",
                        of(off(2, 0, 3), good(5), good(20), good(60)),
                        SHUT,
                        List.of("low_flow_cut_off"),
                        Offer.Keep.class,
                        null),
                new Case(
                        "an open loop has nothing to follow",
                        of(open(off(5, 4, 4)), open(off(20, 16, 16)), open(off(60, 48, 48))),
                        SHUT,
                        List.of(),
                        Offer.Keep.class,
                        null),
                new Case(
                        "unsteady everywhere leaves no curve and no constant",
                        of(
                                unsteady(off(5, 5, 4)),
                                unsteady(off(20, 20, 16)),
                                unsteady(off(60, 60, 50))),
                        SHUT,
                        List.of("air_or_unsteady_flow"),
                        Offer.Withheld.class,
                        null),
                new Case(
                        "what does not repeat has no shape",
                        of(
                                Trucks.caught("a", 5, 5, 5.6),
                                Trucks.caught("b", 5, 5, 5.4),
                                Trucks.caught("c", 20, 20, 20.1),
                                Trucks.caught("d", 20, 20, 19.3),
                                off(60, 60, 60)),
                        SHUT,
                        List.of("scatter"),
                        Offer.Withheld.class,
                        null),
                new Case(
                        "a wrong constant beside a truck that cannot follow",
                        of(off(5, 5, 4.75), off(20, 20, 19), off(40, 40, 38), off(60, 50, 47.5)),
                        SHUT,
                        List.of("cannot_follow", "wrong_constant"),
                        Offer.Enter.class,
                        null));
    }

    @ParameterizedTest
    @MethodSource({"one", "together"})
    void findings(Case drawn) {
        Diagnosis diagnosis = diagnosis(drawn.catches, drawn.shutBy);
        assertEquals(
                drawn.keys,
                diagnosis.findings().stream().map(Finding::key).toList(),
                () -> diagnosis.findings().stream().map(Finding::sentence).toList().toString());
        assertEquals(drawn.offer, diagnosis.offer().getClass(), diagnosis.offer()::toString);
        if (drawn.says != null) {
            assertEquals(drawn.says, diagnosis.findings().getLast().sentence());
        }
    }

    /** With what is offered entered, the same truck shows no wrong constant any more. */
    @Test
    void theOfferedConstantCures() {
        Offer.Enter enter = (Offer.Enter) diagnosis(OVER, SHUT).offer();
        assertEquals(631.6, enter.fitted().best().value(), 0);
        double now = enter.fitted().best().value();
        List<CatchEvidence> after =
                of(
                        off(5, 5, 4.75 / 600 * now),
                        off(20, 20, 19.0 / 600 * now),
                        off(60, 60, 57.0 / 600 * now));
        assertEquals(List.of(), diagnosis(after, SHUT).findings());
    }

    @Test
    void limitsAreTheShops() {
        Limits strict =
                new Limits(
                        Ratio.ofPercent(2),
                        Ratio.ofPercent(1),
                        Ratio.ofPercent(1),
                        Ratio.ofPercent(1),
                        Speed.ofMilesPerHour(0.1),
                        Optional.empty(),
                        Optional.empty(),
                        Optional.empty());
        List<CatchEvidence> catches = of(good(5), good(20), off(60, 58.5, 58.5));
        assertTrue(diagnosis(catches, SHUT).findings().isEmpty());
        assertFalse(
                Diagnosis.of(curve(catches), FlowMix.EVEN, catches, strict, SHUT)
                        .findings()
                        .isEmpty());
    }

    /** Beyond its limit but within its own uncertainty nothing is said. */
    @Test
    void whatIsWithinItsUncertaintyIsNotSaid() {
        CatchEvidence coarse =
                new CatchEvidence(
                        "coarse",
                        Trucks.flow(60),
                        Trucks.comparison(60, 56, 0.05, 56, 0),
                        Control.CLOSED_ON_METER,
                        Optional.empty(),
                        false,
                        Optional.empty(),
                        Optional.empty(),
                        Optional.empty());
        assertEquals(List.of(), diagnosis(of(good(5), good(20), coarse), SHUT).findings());
    }
}
