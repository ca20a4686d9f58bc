package catchbay.run;

import catchbay.metrology.WeightCheck;
import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Numeral;
import catchbay.quantity.Volume;
import catchbay.run.BayCommand.Way;
import catchbay.signal.MassSteadiness;
import catchbay.signal.PressureSense;
import catchbay.signal.PulseLine;
import catchbay.signal.ScaleFrame;
import catchbay.signal.TemperaturePlace;
import catchbay.signal.TemperatureSense;
import catchbay.signal.ThermometerText;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/**
 * What a checkup makes of what it saw. Limits are common practice, no source, unless they are the
 * bay's own settings.
 */
public final class CheckRules {

    /** How far the rate of looped-back pulses may be from what was sent, as a ratio. */
    private static final double LOOP_RATE_RATIO = 0.005;

    /** How far a spacing of them may be from the even one, as a ratio: less than one pulse. */
    private static final double LOOP_SPACING_RATIO = 0.4;

    /** How many of a thermometer's readings may be missing, as a ratio. */
    private static final double READINGS_MISSING_RATIO = 0.1;

    /** Of the weights seen, the first and the last so many parts are held against each other. */
    private static final int DRIFT_PART = 6;

    private CheckRules() {}

    /** How the line at rest is called. */
    public static String quietName(PulseLine line) {
        return line.key() + " pulses at rest";
    }

    /**
     * A pulse line while nothing flows.
     *
     * @param seen what it brought
     * @param seconds how long it was watched
     */
    public static CheckItem quiet(PulseLine line, EdgeSpan seen, double seconds) {
        String name = quietName(line);
        String figure = said("%d edges in %.0f s", seen.edges() + seen.missing(), seconds);
        return seen.edges() == 0
                ? CheckItem.passed(name, figure + "; a line that is dead shows none either")
                : CheckItem.failed(
                        name,
                        figure,
                        "Make sure that nothing flows or turns; then look at the shield, the earth"
                                + " and the pull-up of this line, and for a cable beside it that"
                                + " switches a motor.");
    }

    /** How the looped-back line is called. */
    public static String loopName(PulseLine line) {
        return line.key() + " loop-back";
    }

    /**
     * Pulses that the bay sent and counted back.
     *
     * @param hertz what it was told to send
     * @param running while it sent
     * @param stopped after it was told to stop, and had a moment to do so
     */
    public static CheckItem loop(PulseLine line, double hertz, EdgeSpan running, EdgeSpan stopped) {
        String name = loopName(line);
        if (running.edges() < 2) {
            return CheckItem.failed(
                    name,
                    said("%d edges came of %.1f sent a second", running.edges(), hertz),
                    "Check the output, the wire that loops it back, and the levels of both.");
        }
        String figure =
                said(
                        "%.2f Hz sent, %.2f Hz counted, %d edges, %d missing",
                        hertz, running.hertz(), running.edges(), running.missing());
        double even = 1e9 / hertz;
        boolean uneven =
                running.shortestNanos() < even * (1 - LOOP_SPACING_RATIO)
                        || running.longestNanos() > even * (1 + LOOP_SPACING_RATIO);
        if (running.missing() > 0 || uneven) {
            return CheckItem.failed(
                    name,
                    figure
                            + said(
                                    ", spacings %.2f to %.2f ms",
                                    running.shortestNanos() / 1e6, running.longestNanos() / 1e6),
                    "Pulses are lost or added on the way: check pull-up, level and shield of the"
                            + " line, its debounce, and what else this computer does.");
        }
        if (Math.abs(running.hertz() / hertz - 1) > LOOP_RATE_RATIO) {
            return CheckItem.failed(
                    name,
                    figure,
                    "The output does not keep its rate; check its clock and divider.");
        }
        if (stopped.edges() > 0) {
            return CheckItem.failed(
                    name,
                    figure + said(", and %d edges after the stop", stopped.edges()),
                    "The output does not stop at once; do not feed a truck with it.");
        }
        return CheckItem.passed(name, figure);
    }

    /** What a scale sent and when. */
    public record Weighed(long atNanos, ScaleFrame.Weight weight) {}

    /** How the scale at rest is called. */
    public static final String SCALE_AT_REST = "scale at rest";

    /**
     * The scale while nobody loads it.
     *
     * @param seen what it sent, in order
     * @param fromNanos since when it was watched
     * @param toNanos until when
     */
    public static CheckItem quiet(
            RunSetup.Scale scale, List<Weighed> seen, long fromNanos, long toNanos) {
        Optional<CheckItem> unheard = unheard(scale, seen, fromNanos, toNanos);
        if (unheard.isPresent()) {
            return unheard.get();
        }
        int part = Math.max(1, seen.size() / DRIFT_PART);
        double drift =
                mean(seen.subList(seen.size() - part, seen.size())) - mean(seen.subList(0, part));
        MassUnit unit = scale.unit();
        double limit = scale.restBand().kilograms();
        String figure =
                said(
                        "%d weights, moved by %s %s in %.0f s, allowed %.3f %s",
                        seen.size(),
                        Numeral.signed(new Mass(drift).in(unit), 3),
                        unit.symbol(),
                        (toNanos - fromNanos) / 1e9,
                        scale.restBand().in(unit),
                        unit.symbol());
        if (Math.abs(drift) > limit) {
            return CheckItem.failed(
                    SCALE_AT_REST,
                    figure,
                    "The scale drifts: look for what touches the tank, for drips and wind, let the"
                            + " indicator warm up, and have the cell looked at if it goes on.");
        }
        return restNanos(scale, seen) < scale.restNanos()
                ? CheckItem.failed(
                        SCALE_AT_REST,
                        figure + ", and it was never at rest",
                        "Find what shakes the tank, or set scale.rest_band wider than its noise.")
                : CheckItem.passed(SCALE_AT_REST, figure);
    }

    private static Optional<CheckItem> unheard(
            RunSetup.Scale scale, List<Weighed> seen, long fromNanos, long toNanos) {
        long last = fromNanos;
        long pause = 0;
        for (Weighed weighed : seen) {
            if (weighed.weight().unit() != scale.unit()) {
                return Optional.of(
                        CheckItem.failed(
                                SCALE_AT_REST,
                                said(
                                        "it sends %s, scale.unit says %s",
                                        weighed.weight().unit().symbol(), scale.unit().symbol()),
                                "Set the indicator, or the settings."));
            }
            pause = Math.max(pause, weighed.atNanos() - last);
            last = weighed.atNanos();
        }
        pause = Math.max(pause, toNanos - last);
        return seen.isEmpty() || pause > scale.silentNanosMax()
                ? Optional.of(
                        CheckItem.failed(
                                SCALE_AT_REST,
                                said(
                                        "%d weights, none for %.1f s, allowed %.1f s",
                                        seen.size(), pause / 1e9, scale.silentNanosMax() / 1e9),
                                "Check that the indicator is on and sends as [port.scale] says"
                                        + " (protocol, baud, station), and its cable."))
                : Optional.empty();
    }

    private static double mean(List<Weighed> seen) {
        return seen.stream()
                .mapToDouble(weighed -> weighed.weight().mass().kilograms())
                .average()
                .orElseThrow();
    }

    private static long restNanos(RunSetup.Scale scale, List<Weighed> seen) {
        MassSteadiness rest = MassSteadiness.starting(scale.restBand().kilograms());
        long longest = 0;
        for (Weighed weighed : seen) {
            rest = rest.take(weighed.atNanos(), weighed.weight());
            longest = Math.max(longest, rest.restNanos());
        }
        return longest;
    }

    /** How zero and span are called. */
    public static final String SCALE_SPAN = "scale zero and span";

    /** The scale with a known weight between two readings of the empty one. */
    public static CheckItem span(WeightCheck check, MassUnit unit) {
        WeightCheck.Point point = check.points().getFirst();
        String figure =
                said(
                        "%s: %s %s off, allowed %.3f %s; zero back to %s %s, allowed %.3f %s",
                        point.load().name(),
                        Numeral.signed(new Mass(point.error().value()).in(unit), 3),
                        unit.symbol(),
                        point.limit().in(unit),
                        unit.symbol(),
                        Numeral.signed(check.zeroReturn().in(unit), 3),
                        unit.symbol(),
                        check.zeroLimit().in(unit),
                        unit.symbol());
        return switch (check.answer()) {
            case PASSES -> CheckItem.passed(SCALE_SPAN, figure);
            case FAILS ->
                    CheckItem.failed(
                            SCALE_SPAN,
                            figure,
                            "Look for what touches the tank, clean under it, level it; have it"
                                    + " adjusted, and run catchbay weights.");
            case CANNOT_TELL ->
                    CheckItem.notDone(
                            SCALE_SPAN,
                            figure
                                    + "; the weight is too coarse to tell, use a heavier or better"
                                    + " one");
        };
    }

    /** How a thermometer is called. */
    public static String thermometerName(TemperaturePlace place) {
        return place.key() + " thermometer";
    }

    /**
     * A thermometer.
     *
     * @param sense what it told
     * @param readings how often it answered
     * @param nowNanos when it is judged
     */
    public static CheckItem thermometer(
            TemperaturePlace place, TemperatureSense sense, long readings, long nowNanos) {
        String name = thermometerName(place);
        long without = sense.amiss().answers();
        String heard = said("%d answers", readings);
        if (without > 0) {
            heard +=
                    said(", %d of them do not count, the last because ", without) + sense.missing();
        }
        if (sense.last() == null || nowNanos - sense.last().atNanos() > sense.pauseNanosMax()) {
            return CheckItem.failed(name, heard, thermometerMend(sense.missing()));
        }
        String figure =
                said(
                        "%.2f C, %.1f s old, %s",
                        sense.last().celsius(), (nowNanos - sense.last().atNanos()) / 1e9, heard);
        return without > readings * READINGS_MISSING_RATIO
                ? CheckItem.failed(name, figure, thermometerMend(sense.missing()))
                : CheckItem.passed(name, figure);
    }

    /** By the cause that the last answer told; null where there was no answer. */
    private static String thermometerMend(String missing) {
        if (missing == null) {
            return "Look for the sensor's folder or file, as the settings name it: nothing reads"
                    + " it, or it never answers.";
        }
        return switch (missing) {
            case TemperatureSense.POWERED_ON ->
                    "Give the sensor its own supply wire, and check that wire and the pull-up.";
            case ThermometerText.WRONG_SUM ->
                    "Shorten or shield the sensor's cable, and check its pull-up.";
            case ThermometerText.NOTHING_THERE ->
                    "Check the sensor's data wire and the pull-up: nothing pulls the line low.";
            case ThermometerText.SHORTED ->
                    "Look for a short between the sensor's data wire and ground.";
            default ->
                    "Check the sensor's wires and supply, and that the file the settings name is"
                            + " its own and may be read.";
        };
    }

    /** How the gauge at the coupler is called. */
    public static final String GAUGE = "gauge at the coupler";

    /**
     * The gauge at the coupler.
     *
     * @param told what it said in a window that has closed
     */
    public static CheckItem gauge(PressureSense told) {
        return told.inWindow()
                .map(pressure ->
                        CheckItem.passed(
                                GAUGE,
                                said(
                                        "%.1f psi, between %.1f and %.1f, in %d readings",
                                        pressure.mean().psi(),
                                        pressure.least().psi(),
                                        pressure.most().psi(),
                                        told.readings())))
                .orElseGet(() ->
                        CheckItem.failed(
                                GAUGE,
                                said("%d readings", told.readings())
                                        + (told.missing() == null ? "" : ", " + told.missing()),
                                "Check the gauge's wire and supply, its resistor or divider, and"
                                        + " the converter."));
    }

    /** How the line of the truck's controller is called. */
    public static final String CONTROLLER = "controller's line at rest";

    /**
     * The running total on the controller's line while nothing flows.
     *
     * @param totals the first and the last; empty where none came
     * @param count how many came
     * @param step the total's own step
     */
    public static CheckItem controller(List<Volume> totals, long count, Volume step) {
        if (totals.isEmpty()) {
            return CheckItem.failed(
                    CONTROLLER,
                    "no total came",
                    "Switch the truck's controller on, and check its line and the pattern.");
        }
        double moved = totals.getLast().usGallons() - totals.getFirst().usGallons();
        String figure = said("%d totals, moved by %s US gal", count, Numeral.signed(moved, 3));
        return Math.abs(moved) > step.usGallons()
                ? CheckItem.failed(
                        CONTROLLER,
                        figure,
                        "Make sure that nothing flows; else look at the truck's own meter line.")
                : CheckItem.passed(CONTROLLER, figure);
    }

    /** A contact as it was seen to stand and move; a state that was never told is no key. */
    public record Handled(Optional<Boolean> atRest, boolean went, boolean cameBack) {}

    /**
     * A contact that a person brought to its active state and back.
     *
     * @param seconds how long each was waited for
     */
    public static CheckItem contact(BayContact contact, Handled seen, double seconds) {
        String name = contact.key();
        if (seen.atRest.isEmpty()) {
            return CheckItem.notFitted(name, "no such contact is told of");
        }
        if (!seen.went) {
            return CheckItem.failed(
                    name,
                    said("it did not become active within %.0f s", seconds),
                    "Check its wire and its polarity: no catch may rely on it until it is seen.");
        }
        return seen.cameBack
                ? CheckItem.passed(name, "became active and came back")
                : CheckItem.failed(
                        name,
                        said("it became active and did not come back within %.0f s", seconds),
                        "Release or dry it; if it is free, look for a contact that sticks.");
    }

    /** A contact that must not be active before anything is done. */
    public static CheckItem activeAtRest(BayContact contact) {
        return CheckItem.failed(
                contact.key(),
                "it is active from the beginning",
                switch (contact) {
                    case EMERGENCY_STOP ->
                            "Release the emergency stop; if it is, its wire is broken or its"
                                    + " polarity wrong.";
                    case HIGH_LEVEL -> "Drain the tank; if it is empty, free the float.";
                    case SPILL -> "Find the leak, and dry floor and sensor.";
                    case SUPPLY_LOST ->
                            "Look after the bay's own supply; if it is on, the wire is broken or"
                                    + " its polarity wrong.";
                    case ATTENDANT ->
                            "Let the attendant's button go; if it is, its polarity is wrong.";
                    case DIVERTER_TRIGGER, DIVERTER_AT_TANK, DIVERTER_AT_BYPASS ->
                            "Look where the diverter stands.";
                });
    }

    /** How the diverter at rest is called. */
    public static final String DIVERTER_AT_REST = "diverter at rest";

    /**
     * The diverter before it moves: it must stand at the bypass, and its switches must say so.
     *
     * @param told how they stand; those not told of are no keys
     */
    public static CheckItem stands(RunSetup.Diverter diverter, Map<BayContact, Boolean> told) {
        List<BayContact> lacking = new ArrayList<>(needed(diverter.feedback()));
        lacking.removeAll(told.keySet());
        if (!lacking.isEmpty()) {
            return CheckItem.failed(
                    DIVERTER_AT_REST,
                    "nothing is told of " + keys(lacking),
                    "Wire and name the switches that diverter.feedback needs.");
        }
        List<BayContact> wrong = wrong(Way.BYPASS, told);
        return wrong.isEmpty()
                ? CheckItem.passed(DIVERTER_AT_REST, "its switches say bypass")
                : CheckItem.failed(
                        DIVERTER_AT_REST,
                        keys(wrong) + " did not say bypass",
                        "Look where the flap stands: free it, or mend that switch.");
    }

    /** How a move of the diverter is called. */
    public static String moveName(Way way) {
        return "diverter to " + way.name().toLowerCase(Locale.ROOT);
    }

    /**
     * A move of the diverter.
     *
     * @param after how its switches stood when the time allowed was over; those not told of are no
     *     keys
     * @param movedNanos from the command until the last of them changed
     */
    public static CheckItem move(
            Way way, RunSetup.Diverter diverter, Map<BayContact, Boolean> after, long movedNanos) {
        String name = moveName(way);
        List<BayContact> wrong = wrong(way, after);
        String allowed = said("allowed %.2f s", diverter.travelNanosMax() / 1e9);
        if (wrong.isEmpty()) {
            return CheckItem.passed(name, said("%.2f s, ", movedNanos / 1e9) + allowed);
        }
        return CheckItem.failed(
                name,
                keys(wrong) + " did not follow, " + allowed,
                wrong.size() == after.size()
                        ? "The flap did not move: check its valve, its air or current, and the"
                                + " output."
                        : "Look where the flap stands: if it arrived, that switch or its wire is"
                                + " dead; else free the flap.");
    }

    private static List<BayContact> needed(RunSetup.Feedback feedback) {
        return switch (feedback) {
            case TRIGGER -> List.of(BayContact.DIVERTER_TRIGGER);
            case ENDS -> List.of(BayContact.DIVERTER_AT_TANK, BayContact.DIVERTER_AT_BYPASS);
        };
    }

    /** Which of the diverter's switches do not say that it stands there. */
    public static List<BayContact> wrong(Way way, Map<BayContact, Boolean> told) {
        return told.entrySet().stream()
                .filter(entry ->
                        entry.getValue()
                                != (entry.getKey() == BayContact.DIVERTER_AT_BYPASS
                                        ? way == Way.BYPASS
                                        : way == Way.TANK))
                .map(Map.Entry::getKey)
                .sorted()
                .toList();
    }

    private static String keys(List<BayContact> contacts) {
        return String.join(", ", contacts.stream().map(BayContact::key).toList());
    }

    /** How free space is called. */
    public static final String DISK = "disk";

    /**
     * Free space on the medium of the data folder.
     *
     * @param leastBytes what there must be
     */
    public static CheckItem disk(BayComputer computer, long leastBytes) {
        if (computer.freeBytes().isEmpty()) {
            return CheckItem.notDone(DISK, "nobody tells how much is free");
        }
        long free = computer.freeBytes().getAsLong();
        String figure = said("%d MB free, wanted %d MB", free / 1_000_000, leastBytes / 1_000_000);
        return free < leastBytes
                ? CheckItem.failed(DISK, figure, "Free some space, or choose another data folder.")
                : CheckItem.passed(DISK, figure);
    }

    /** How the calendar clock is called. */
    public static final String CLOCK = "clock";

    /** Whether the calendar time is to be trusted. */
    public static CheckItem clock(BayComputer computer) {
        return computer.clockDoubts()
                .map(doubts ->
                        doubts.isEmpty()
                                ? CheckItem.passed(CLOCK, "nothing speaks against it")
                                : CheckItem.failed(
                                        CLOCK,
                                        String.join(", and ", BayComputer.words(doubts)),
                                        "Set the clock, connect the computer to a time server, or"
                                                + " fit a battery clock."))
                .orElseGet(() -> CheckItem.notDone(CLOCK, "nobody looks at it"));
    }

    /** How the computer's supply is called. */
    public static final String SUPPLY = "computer's supply";

    /** Whether the firmware complains of the supply. */
    public static CheckItem supply(BayComputer computer) {
        if (computer.powerFlags().isEmpty()) {
            return CheckItem.notFitted(SUPPLY, "this computer tells nothing of it");
        }
        String figure = said("flags 0x%x", computer.powerFlags().getAsInt());
        return computer.powerFlags().getAsInt() == 0
                ? CheckItem.passed(SUPPLY, figure)
                : CheckItem.failed(
                        SUPPLY,
                        figure + ": short of voltage, or slowed down, now or since its start",
                        "Give it a stronger supply, a short and thick cable, and air; then start"
                                + " it anew.");
    }

    private static String said(String format, Object... figures) {
        return String.format(Locale.ROOT, format, figures);
    }
}
