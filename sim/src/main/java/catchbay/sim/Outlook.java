package catchbay.sim;

import catchbay.run.Doubts;
import catchbay.run.RunSetup;
import catchbay.run.RunSetup.MeasureBy;
import catchbay.run.RunSetup.Reported;
import catchbay.run.RunSetup.Window;
import catchbay.signal.PulseLine;

/**
 * What a fault can do to a scenario, and whether what the bay has fitted can notice it.
 *
 * @param effect what it can spoil
 * @param detectable whether the fitted equipment must notice before an amount is accepted that the
 *     fault has spoilt
 * @param fatal whether the catch must not be accepted at all, if the fault has done something to
 *     its window: {@link CatchRun#touchedBy}
 * @param sentence why
 */
public record Outlook(Effect effect, boolean detectable, boolean fatal, String sentence) {

    /** What a fault can spoil. */
    public enum Effect {
        /** The measured amount. */
        MEASURED,
        /** The reported amount. */
        REPORTED,
        /** Neither: it ends the run, or does nothing. */
        COURSE
    }

    /** Bubbles and unlucky moments may take so much from a fault's mean effect. */
    private static final double LEAST_OF_EFFECT = 0.8;

    /**
     * A spacing check needs an even train: less than this of scatter (illustrative, below the leap
     * ratio's reach).
     */
    private static final double EVEN_SHIFT_RATIO = 0.05;

    /**
     * The outlook of one fault when no other shifts an instrument: two of them can hide each other.
     */
    public static Outlook of(Fault fault, Scenario scenario) {
        return switch (fault.kind()) {
            case LOST_NUMBERED, READER_STALLED ->
                    course("the door numbers from one and shows every edge that is lost behind it");
            case LOST_UNNUMBERED, STRAY, BOUNCE, LOST_EVERY, LINE_NOISE -> spacing(fault, scenario);
            case AIR, REFERENCE_OFF, GHOST_FLOW -> meter(fault, scenario);
            case DIVERTER_STUCK -> stuck(fault, scenario);
            case DIVERTER_SLOW ->
                    course("a flap that is slow both into and out of the jet shifts nothing");
            case SCALE_GARBLED, SCALE_SILENT ->
                    course("a scale that is not heard is noticed by its silence");
            case SCALE_MOVING -> course("a scale that moves is never read");
            case SCALE_WRONG_UNIT -> wrongUnit(fault, scenario);
            case SCALE_FROZEN, SCALE_DRIFT -> scale(fault, scenario);
            case CONTROLLER_LATE ->
                    reported(false, "a total that is late by the same at both ends looks right");
            case CONTROLLER_RESET -> reset(scenario);
            case TYPO, TRANSPOSED, IMPERIAL_GALLONS, PREVIOUS_TOTAL ->
                    reported(false, "a typed total within the band of what was asked looks right");
            case EMERGENCY_STOP, HIGH_LEVEL, SPILL, SUPPLY_LOST -> interlock(fault, scenario);
            case TRUCK_METER_DEAD ->
                    reported(false, "a meter that stands still is a meter error to be shown");
            case LINE_DEAD -> dead(fault, scenario);
            case THERMOMETER_SILENT, THERMOMETER_POWER_ON -> untold(fault, scenario);
            case THERMOMETER_GARBLED ->
                    course("a thermometer that is heard too seldom tells nothing");
            case THERMOMETER_SPIKE -> course("a leap counts only once it is confirmed");
            case TRUCK_DRY -> dry(fault, scenario);
            case PUMP_SAG, UNSTEADY, RUNAWAY, VALVE_STUCK ->
                    course("the bay measures whatever flow there is");
            case TRUCK_METER_OFF -> course("the bay is there to show what the truck's meter does");
            case NOZZLE_CLOGGED ->
                    new Outlook(
                            Effect.COURSE,
                            false,
                            false,
                            "one meter and one tank see the sum of all nozzles");
            case TANK_LEAK, STRAY_LIQUID, WRONG_LIQUID, SCALE_LEANT_ON -> mass(fault, scenario);
            case SCALE_DOUBLED -> course("a frame that comes twice tells nothing new");
            case SCALE_MOTION_UNTOLD ->
                    course("rest is seen in the readings as well as in what the scale says of it");
            case DRAIN_STUCK -> ends(fault, scenario, "a drain that opens makes the tank lighter");
            case CONTROLLER_SILENT -> reported(true, "a line that tells nothing gives no total");
            case SCALE_OVERLOADED -> course("an overloaded scale tells no weight");
            case CONTROLLER_UNPLUGGED, SCALE_UNPLUGGED ->
                    ends(fault, scenario, "a port that is gone ends the run");
            case POWER_CUT -> ends(fault, scenario, "a run without its end counts for nothing");
            case DISK_FULL -> ends(fault, scenario, "a trace that cannot be written ends the run");
            case PROGRAM_STALLED ->
                    course("edges are stamped when they come, and numbered if they are lost");
            case ATTENDANT_GONE -> course("who does not answer is missed");
        };
    }

    private static Outlook course(String sentence) {
        return new Outlook(Effect.COURSE, true, false, sentence);
    }

    private static Outlook reported(boolean detectable, String sentence) {
        return new Outlook(Effect.REPORTED, detectable, false, sentence);
    }

    private static Outlook reset(Scenario scenario) {
        boolean line = scenario.setup().reported() instanceof Reported.RunningLine;
        return reported(
                line,
                line ? "a running total that goes back is noticed" : "a display is not watched");
    }

    private static Outlook interlock(Fault fault, Scenario scenario) {
        return new Outlook(
                Effect.COURSE,
                true,
                beforeClose(fault, scenario),
                "a contact that is active ends the run");
    }

    private static Outlook ends(Fault fault, Scenario scenario, String sentence) {
        return new Outlook(Effect.COURSE, true, beforeClose(fault, scenario), sentence);
    }

    /** What the scale feels and the meter does not. */
    private static Outlook mass(Fault fault, Scenario scenario) {
        double density = scenario.setup().liquid().density().kilogramsPerCubicMetre();
        double litres = scenario.planned().litres();
        double seconds = lasting(fault, scenario) * scenario.setup().plan().catchNanos() / 1e9;
        double shift = fault.size();
        if (fault.kind() == FaultKind.TANK_LEAK) {
            shift = fault.size() * seconds / litres;
        } else if (fault.kind() == FaultKind.SCALE_LEANT_ON) {
            shift = fault.size() / (litres * density / 1000);
        }
        return measured(
                MeasureBy.SCALE,
                crossChecked(shift, scenario),
                scenario,
                "only the reference meter can tell, and only more than the two may disagree by");
    }

    private static Outlook wrongUnit(Fault fault, Scenario scenario) {
        boolean heard = scenario.setup().scale().isPresent();
        return new Outlook(
                Effect.COURSE,
                true,
                heard && beforeClose(fault, scenario),
                "every frame names its unit");
    }

    /** Whether a fault that counts from the catch surely begins while the window is open. */
    private static boolean beforeClose(Fault fault, Scenario scenario) {
        return fault.since() == Fault.Since.CATCH && left(fault, scenario) > 0;
    }

    /**
     * The part of the catch that is still to come when the fault begins; 0 when it begins after it.
     */
    private static double left(Fault fault, Scenario scenario) {
        double nanos = scenario.setup().plan().catchNanos();
        double before = fault.since() == Fault.Since.RUN ? 0 : fault.afterNanos();
        return Math.max(0, nanos - before) / nanos;
    }

    /** The part of the catch during which the fault lasts for sure. */
    private static double lasting(Fault fault, Scenario scenario) {
        // The first liquid in the tank may come long before a standing window: the last of a purge.
        boolean moved =
                fault.since() == Fault.Since.RUN
                        || scenario.setup().plan().window() == Window.STANDING;
        if (moved && fault.forNanos() > 0) {
            return 0;
        }
        double nanos = scenario.setup().plan().catchNanos();
        double left = left(fault, scenario);
        return fault.forNanos() == 0 ? left : Math.min(left, fault.forNanos() / nanos);
    }

    private static boolean both(RunSetup setup) {
        return setup.reference().isPresent() && setup.scale().isPresent();
    }

    private static boolean crossChecked(double shift, Scenario scenario) {
        return both(scenario.setup())
                && shift * LEAST_OF_EFFECT > Bounds.planned(scenario).crossCheck();
    }

    private static Outlook measured(
            MeasureBy spoilt, boolean detectable, Scenario scenario, String sentence) {
        Effect effect =
                scenario.setup().plan().measureBy() == spoilt ? Effect.MEASURED : Effect.COURSE;
        return new Outlook(effect, detectable, false, sentence);
    }

    private static Outlook spacing(Fault fault, Scenario scenario) {
        RunSetup setup = scenario.setup();
        boolean flying = setup.plan().window() == Window.FLYING;
        if (fault.line() == PulseLine.TRUCK) {
            return reported(
                    flying,
                    flying ? "an even train leaps" : "a train that starts and stops may leap");
        }
        if (!ofReference(fault, setup)) {
            return course("the line tells only what was asked");
        }
        if (fault.kind() == FaultKind.BOUNCE
                && setup.reference().get().debounceNanos() > Door.BOUNCE_NANOS) {
            return course("the debounce takes bounces out");
        }
        if (setup.reference().get().twoChannels()) {
            return oneChannel(fault, scenario);
        }
        if (fault.kind() == FaultKind.LOST_EVERY
                && fault.size() <= REGULAR_LOSS_MOST
                && fault.since() == Fault.Since.RUN) {
            return byTheOther(
                    fault,
                    scenario,
                    "a loss so regular, from before the window on, looks like magnets that sit"
                            + " unevenly");
        }
        if (flying && scenario.options().bay().referenceShiftRatio() < EVEN_SHIFT_RATIO) {
            return measured(
                    MeasureBy.REFERENCE,
                    true,
                    scenario,
                    "an even train leaps where a pulse is missed or added");
        }
        return byTheOther(
                fault,
                scenario,
                "in an uneven train only the other instrument can tell, and only more than it may"
                        + " disagree by");
    }

    /** What only the scale can tell of the reference meter's pulses. */
    private static Outlook byTheOther(Fault fault, Scenario scenario, String sentence) {
        double pulses =
                scenario.planned().litres()
                        * scenario.setup()
                                .reference()
                                .orElseThrow()
                                .curve()
                                .points()
                                .getFirst()
                                .constant()
                                .pulsesPerLitre();
        return measured(
                MeasureBy.REFERENCE,
                crossChecked(wrongPulses(fault, scenario, pulses) / pulses, scenario),
                scenario,
                sentence);
    }

    /** Of so many spacings or fewer with two leaps among them more than a quarter leap. */
    private static final int REGULAR_LOSS_MOST = 8;

    /** How many pulses of a catch's are lost or added for sure. */
    private static double wrongPulses(Fault fault, Scenario scenario, double pulses) {
        double lasting = lasting(fault, scenario);
        if (fault.kind() == FaultKind.LOST_EVERY) {
            return Math.floor(pulses * lasting / fault.size());
        }
        return fault.kind() == FaultKind.LINE_NOISE
                ? fault.size() * lasting * scenario.setup().plan().catchNanos() / 1e9
                : fault.size();
    }

    /** Whether a fault is on a line of the reference meter that the bay has. */
    private static boolean ofReference(Fault fault, RunSetup setup) {
        return switch (fault.line()) {
            case REFERENCE -> setup.reference().isPresent();
            case REFERENCE_SECOND ->
                    setup.reference().filter(RunSetup.Reference::twoChannels).isPresent();
            case TRUCK, SPEED, FEEDER -> false;
        };
    }

    /** A pulse too many or too few on one of two channels, in whatever train. */
    private static Outlook oneChannel(Fault fault, Scenario scenario) {
        boolean counted =
                fault.line() == PulseLine.REFERENCE
                        && scenario.setup().plan().measureBy() == MeasureBy.REFERENCE;
        return new Outlook(
                counted ? Effect.MEASURED : Effect.COURSE,
                true,
                true,
                "two pulses of one channel come with none of the other between them");
    }

    /**
     * The window may open so long after the first liquid in the tank: the longest travel that a
     * drawn diverter is allowed, and some more.
     */
    private static final long WINDOW_EDGE_NANOS = 3_000_000_000L;

    private static Outlook dead(Fault fault, Scenario scenario) {
        RunSetup setup = scenario.setup();
        boolean flying = setup.plan().window() == Window.FLYING;
        if (fault.line() == PulseLine.TRUCK) {
            boolean counted = fault.since() == Fault.Since.CATCH;
            return reported(
                    flying && counted,
                    !counted
                            ? "a line that never gave a pulse looks like a meter below its cut-off"
                            : flying
                                    ? "a flying window needs an edge after it"
                                    : "a line that ends early looks like a meter that reads low");
        }
        if (!ofReference(fault, setup)) {
            return course("the line tells only what was asked");
        }
        if (setup.reference().get().twoChannels()) {
            return oneChannel(fault, scenario);
        }
        return measured(
                MeasureBy.REFERENCE,
                flying || crossChecked(left(fault, scenario), scenario),
                scenario,
                flying
                        ? "a flying window needs an edge after it"
                        : "only the scale can tell that a line ended early");
    }

    /** Thermometers that tell nothing any more, with nothing in their place. */
    private static Outlook untold(Fault fault, Scenario scenario) {
        Doubts.Temperatures known = scenario.setup().doubts().temperatures();
        boolean typed = known.truckMeter().isPresent();
        double left = left(fault, scenario) * scenario.setup().plan().catchNanos();
        boolean throughTheEnd =
                fault.since() == Fault.Since.CATCH
                        && fault.forNanos() == 0
                        && left > known.sensors().pauseNanosMax() + WINDOW_EDGE_NANOS;
        boolean fitted = !known.sensors().places().isEmpty();
        return new Outlook(
                Effect.COURSE,
                true,
                fitted && !typed && throughTheEnd,
                "a thermometer that tells nothing leaves the window untold");
    }

    private static Outlook meter(Fault fault, Scenario scenario) {
        return measured(
                MeasureBy.REFERENCE,
                crossChecked(fault.size() * lasting(fault, scenario), scenario),
                scenario,
                "only the scale can tell, and only more than the two may disagree by");
    }

    /** The last of a tank comes with air, which a meter counts. */
    private static Outlook dry(Fault fault, Scenario scenario) {
        boolean flying = scenario.setup().plan().window() == Window.FLYING;
        double nanos = left(fault, scenario) * scenario.setup().plan().catchNanos();
        boolean begun = fault.since() == Fault.Since.CATCH || fault.afterNanos() == 0;
        return measured(
                MeasureBy.REFERENCE,
                flying && begun && nanos > WINDOW_EDGE_NANOS,
                scenario,
                flying
                        ? "flow that ends inside a flying window is missed, if it is long enough"
                                + " before its end"
                        : "a standing window cannot tell air at its end from liquid");
    }

    private static Outlook stuck(Fault fault, Scenario scenario) {
        boolean sure = fault.size() == 0 || fault.size() == 1;
        return measured(
                MeasureBy.SCALE,
                sure,
                scenario,
                sure
                        ? "a flap that stays at an end does not pass its switches"
                        : "a flap that sticks between trigger and end splits the liquid, and no"
                                + " switch tells");
    }

    private static Outlook scale(Fault fault, Scenario scenario) {
        double shift =
                fault.kind() == FaultKind.SCALE_FROZEN
                        ? left(fault, scenario)
                        : drift(fault, scenario);
        return measured(
                MeasureBy.SCALE,
                crossChecked(shift, scenario),
                scenario,
                "only the reference meter can tell, and only more than the two may disagree by");
    }

    /** What a creeping scale gathers in the catch alone. */
    private static double drift(Fault fault, Scenario scenario) {
        double minutes = lasting(fault, scenario) * scenario.setup().plan().catchNanos() / 60e9;
        double density = scenario.setup().liquid().density().kilogramsPerCubicMetre();
        return fault.size() * minutes / (scenario.planned().litres() * density / 1000);
    }
}
