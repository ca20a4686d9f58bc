package catchbay.metrology;

import static java.lang.String.format;

import catchbay.metrology.TruckCurve.Linearity;
import catchbay.metrology.TruckCurve.Scatter;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Numeral;
import catchbay.quantity.Pressure;
import catchbay.quantity.Ratio;
import catchbay.quantity.Speed;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;

/** Something that is wrong with a truck or with its test, with the figures that show it. */
public sealed interface Finding {

    /** How documents call it. */
    String key();

    /** What it is and what to do, in plain language, with its figures. */
    String sentence();

    /**
     * The meter is one number off at all flows.
     *
     * @param constant as it is entered
     * @param error mean meter error over the mix
     * @param expanded its uncertainty
     * @param outletsShut whether somebody has seen that no liquid can go elsewhere
     */
    record WrongConstant(TruckConstant constant, Ratio error, Ratio expanded, boolean outletsShut)
            implements Finding {
        @Override
        public String key() {
            return "wrong_constant";
        }

        @Override
        public String sentence() {
            return "Wrong constant: with "
                    + constant.written(constant.value())
                    + " the controller reports "
                    + apart(error, expanded)
                    + " than the bay measured, at all tested flows alike."
                    + (outletsShut
                            ? ""
                            : " Liquid that left by another outlet would make it report more, not"
                                    + " less, and would only hide a part of this error.");
        }
    }

    /**
     * No one number fits all flows.
     *
     * @param linearity how far the curve is from one number
     * @param limit the largest that is taken for a sound meter
     * @param losesAtLow whether it gives fewer pulses for the same liquid at the lower flow
     * @param repeated whether any flow was caught twice, so that the meter's scatter is known
     */
    record NonLinear(Linearity linearity, Ratio limit, boolean losesAtLow, boolean repeated)
            implements Finding {
        @Override
        public String key() {
            return "worn_or_non_linear_meter";
        }

        @Override
        public String sentence() {
            return format(
                            Locale.ROOT,
                            "Worn or non-linear meter: its constant differs by +-%.2f %% (+-%.2f"
                                    + " %%, limit %.2f %%) between %s and %s; no single constant"
                                    + " cures that.",
                            linearity.halfWidth().percent(),
                            linearity.expanded().percent(),
                            limit.percent(),
                            flow(linearity.lowest()),
                            flow(linearity.highest()))
                    + (losesAtLow
                            ? " It loses pulses at low flow, as a worn, dragging or fouled meter"
                                    + " does."
                            : " It gives more pulses for the same liquid at low flow than at high;"
                                    + " look for noise on its line and for its upper limit.")
                    + (repeated
                            ? ""
                            : " No flow was caught twice, so only the planned scatter is in this:"
                                    + " repeat one.");
        }
    }

    /** Below a flow the meter gives nothing. */
    record LowFlowCutOff(FlowRate silentUpTo, FlowRate lowestCounted) implements Finding {
        @Override
        public String key() {
            return "low_flow_cut_off";
        }

        @Override
        public String sentence() {
            return "Low-flow cut-off: the meter gave nothing up to "
                    + flow(silentUpTo)
                    + " and counted from "
                    + flow(lowestCounted)
                    + " on; below that the truck puts down liquid that it does not report.";
        }
    }

    /** The meter gave nothing where it should, and that is no cut-off at low flow. */
    record SilentMeter(FlowRate silentAt, Optional<FlowRate> countedAt) implements Finding {
        @Override
        public String key() {
            return "silent_meter";
        }

        @Override
        public String sentence() {
            return "Silent meter: it gave nothing at "
                    + flow(silentAt)
                    + countedAt
                            .map(counted -> " though it counted at " + flow(counted))
                            .orElse(", nor at any other tested flow")
                    + "; check its wire, supply and rotor before anything else.";
        }
    }

    /**
     * One catch whose reported amount is not the asked one.
     *
     * @param asked the asked flow
     * @param error (reported - asked) / asked
     * @param expanded its uncertainty
     */
    record Missed(String run, FlowRate asked, Ratio error, Ratio expanded) {}

    /**
     * The controller does not reach its own target.
     *
     * @param missed the catches, worst first, at least one
     * @param limit the largest control error that is taken for following
     * @param speedTold whether a wrong speed input was ruled out
     */
    record CannotFollow(List<Missed> missed, Ratio limit, boolean speedTold) implements Finding {
        @Override
        public String key() {
            return "cannot_follow";
        }

        @Override
        public String sentence() {
            Missed worst = missed.getFirst();
            return format(
                            Locale.ROOT,
                            "Controller or hydraulics cannot follow: asked for %s, the truck"
                                    + " reported %.2f %% %s (+-%.2f %%, limit %.2f %%)",
                            flow(worst.asked),
                            Math.abs(worst.error.percent()),
                            worst.error.value() < 0 ? "less" : "more",
                            worst.expanded.percent(),
                            limit.percent())
                    + (missed.size() > 1
                            ? ", and was off in " + (missed.size() - 1) + " more."
                            : ".")
                    + " A new constant does not cure it: look at pump, valve, nozzles, strainers"
                    + " and hydraulic supply of the truck."
                    + (speedTold
                            ? ""
                            : " A wrong pulses-per-mile constant looks the same: write down the"
                                    + " speed that the controller shows during a catch.");
        }
    }

    /**
     * The flow stops following the asked one.
     *
     * @param upper true where it stops rising, false where it stops falling
     * @param reported where the reported flow stays
     * @param measured where the measured flow stays
     * @param askedNear the asked flow at which it begins
     * @param askedFar the asked flow up or down to which it was seen
     */
    record RateClamp(
            boolean upper,
            FlowRate reported,
            FlowRate measured,
            FlowRate askedNear,
            FlowRate askedFar)
            implements Finding {
        @Override
        public String key() {
            return upper ? "rate_clamp_upper" : "rate_clamp_lower";
        }

        @Override
        public String sentence() {
            return "Rate clamp: reported and measured flow stop "
                    + (upper ? "rising" : "falling")
                    + " at "
                    + flow(reported)
                    + " ("
                    + flow(measured)
                    + " measured) while the asked one goes on from "
                    + flow(askedNear)
                    + " to "
                    + flow(askedFar)
                    + ". Compare with the "
                    + (upper
                            ? "highest rate set in the controller and with what pump and valve can"
                                    + " give at most."
                            : "lowest rate set in the controller and with the valve's smallest"
                                    + " opening.");
        }
    }

    /**
     * The controller works with another pulses-per-mile constant than the one it was played by.
     *
     * @param shown the speed that it showed
     * @param played the speed that was played
     * @param error (shown - played) / played, over all catches where it was written down
     * @param expanded its uncertainty
     * @param pulsesPerMile the speed constant by which the bay played
     */
    record SpeedInputWrong(
            Speed shown, Speed played, Ratio error, Ratio expanded, double pulsesPerMile)
            implements Finding {
        @Override
        public String key() {
            return "speed_input_wrong";
        }

        @Override
        public String sentence() {
            return format(
                    Locale.ROOT,
                    "Speed input wrong: the controller showed %.1f mph where %.1f mph was played"
                            + " (%s %%, +-%.2f %%); it works with about %.0f pulses per mile"
                            + " where %.0f were played. This speaks of the controller's constant"
                            + " only: the truck's real speed sensor was not tested, check it over"
                            + " a measured mile.",
                    shown.milesPerHour(),
                    played.milesPerHour(),
                    Numeral.signed(error.percent(), 2),
                    expanded.percent(),
                    pulsesPerMile / (1 + error.value()),
                    pulsesPerMile);
        }
    }

    /** A catch and what disturbed it. */
    record Disturbed(String run, FlowRate flow, String how) {}

    /**
     * Catches in which the flow was no steady stream of liquid.
     *
     * @param catches at least one
     * @param measured how many catches there are in all
     */
    record UnsteadyFlow(List<Disturbed> catches, int measured) implements Finding {
        @Override
        public String key() {
            return "air_or_unsteady_flow";
        }

        @Override
        public String sentence() {
            Disturbed first = catches.getFirst();
            return "Air or unsteady flow in "
                    + catches.size()
                    + " of "
                    + measured
                    + " catches; at "
                    + flow(first.flow)
                    + " "
                    + first.how
                    + ". Look for air at the tank's outlet, leaking suction lines and a hunting"
                    + " valve, and repeat; these catches have no part in the curve.";
        }
    }

    /** Catches at one flow lie further apart than the bay explains. */
    record Scattering(Scatter scatter, Ratio limit) implements Finding {
        @Override
        public String key() {
            return "scatter";
        }

        @Override
        public String sentence() {
            return format(
                    Locale.ROOT,
                    "Air or unsteady flow: repeats at one flow scatter by %.2f %% (standard"
                            + " deviation, degrees of freedom: %d) where the bay explains %.2f %%,"
                            + " limit %.2f %%. Look for air, a loose wire and a sticking meter"
                            + " before entering a constant.",
                    scatter.relativeObserved() * 100,
                    scatter.degreesOfFreedom(),
                    scatter.relativeStated() * 100,
                    limit.percent());
        }
    }

    /** Flow that is lost whatever the flow, and its uncertainty. */
    record Loss(FlowRate flow, FlowRate expanded) {}

    /**
     * Liquid may pass the truck's meter and not reach the bay.
     *
     * @param error mean meter error over the mix
     * @param expanded its uncertainty
     * @param loss a loss that is the same at all flows, where the curve looks like one
     */
    record LiquidElsewhere(Ratio error, Ratio expanded, Optional<Loss> loss) implements Finding {
        @Override
        public String key() {
            return "liquid_elsewhere";
        }

        @Override
        public String sentence() {
            String looks =
                    loss.map(l ->
                                    "Liquid may go elsewhere: at every flow about "
                                            + flow(l.flow)
                                            + " (+-"
                                            + flow(l.expanded)
                                            + ") passed the truck's meter and did not reach the"
                                            + " bay.")
                            .orElseGet(() ->
                                    "Wrong constant, or liquid that passed the truck's meter and"
                                            + " did not reach the bay: the controller reports "
                                            + apart(error, expanded)
                                            + " than the bay measured, and both look the same.");
            return looks
                    + " Shut the recirculation branch and every other outlet, look for leaks, and"
                    + " have it confirmed; before that no constant is offered.";
        }
    }

    /** A catch at which the bay was no road. */
    record Restricted(String run, FlowRate flow, String how) {}

    /** The bay chokes, or eases, the truck. */
    record BayRestriction(List<Restricted> catches) implements Finding {
        @Override
        public String key() {
            return "bay_restriction";
        }

        @Override
        public String sentence() {
            return "Bay restriction: "
                    + catches.stream()
                            .map(c -> "at " + flow(c.flow) + " (run " + c.run + ") " + c.how)
                            .collect(Collectors.joining("; "))
                    + ". Whether the truck can follow there was not judged: clean the strainer,"
                    + " open the bay's valves and repeat.";
        }
    }

    private static String flow(FlowRate flow) {
        return TruckCurve.gallonsPerMinute(flow);
    }

    /** A pressure for a sentence. */
    static String psi(Pressure pressure) {
        return format(Locale.ROOT, "%.1f psi", pressure.psi());
    }

    private static String apart(Ratio error, Ratio expanded) {
        return format(
                Locale.ROOT,
                "%.2f %% %s (+-%.2f %%)",
                Math.abs(error.percent()),
                error.value() < 0 ? "less" : "more",
                expanded.percent());
    }
}
