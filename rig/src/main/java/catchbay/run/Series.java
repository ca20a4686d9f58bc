package catchbay.run;

import catchbay.metrology.ConstantAdvice;
import catchbay.metrology.Grubbs;
import catchbay.metrology.MeanOfCatches;
import catchbay.metrology.Repeatability;
import catchbay.metrology.Scatter;
import catchbay.quantity.Ratio;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * A series of equal catches as far as it has come: what to do next, and what it gives. Every
 * completed valid catch counts, and none is ever taken out again.
 *
 * @param repeats what was planned before the first
 * @param runs all catches so far, void ones too, in order
 * @param kept the runs that stood out and that a person has kept, by name
 */
public record Series(Repeats repeats, List<Run> runs, List<String> kept) {

    /**
     * Nearer to the mean than a thousandth of a per cent, the last digit that is shown of a run,
     * none stands out: nobody could look for its cause. Common practice, no source.
     */
    private static final double STANDS_OUT_LEAST = 1e-5;

    /**
     * One of its catches.
     *
     * @param name by which its trace is found
     * @param day the day it was made on
     * @param outcome how it ended
     */
    public record Run(String name, LocalDate day, Outcome outcome) {

        /** What it gave, where it counts. */
        public Optional<CatchResult> result() {
            return outcome instanceof Outcome.Measured measured
                    ? Optional.of(measured.result())
                    : Optional.empty();
        }
    }

    /** What to do next. */
    public sealed interface Next {

        /** One more catch, for the reason given as a sentence. */
        record Again(String reason) implements Next {}

        /** A run stands out: ask a person whether it stays, or the series ends. */
        record Ask(Run run, Grubbs.Finding.Flagged finding) implements Next {}

        /** It has ended. */
        record Over(End end) implements Next {}
    }

    /**
     * How a series ended.
     *
     * @param how the kind of its end
     * @param reason as a sentence
     * @param range (most - least) / mean of reported over measured, where it was looked at
     * @param limit what the range may be, likewise
     */
    public record End(How how, String reason, Optional<Ratio> range, Optional<Ratio> limit) {

        private End(How how, String reason) {
            this(how, reason, Optional.empty(), Optional.empty());
        }
    }

    /** The kinds of end. */
    public enum How {
        /** The catches agree. */
        ENOUGH,
        /** As many as allowed, and they do not agree; their mean stands all the same. */
        LIMIT_REACHED,
        /** All are identical. */
        IDENTICAL,
        /** Too many void ones in a row, or one that forbids to go on. */
        VOID,
        /** A person ended it, or the bay. */
        STOPPED,
        /** A run stood out, and was not kept. */
        OUTLIER;

        /** Whether the series came to the end that was planned, and so can carry a constant. */
        public boolean asPlanned() {
            return this == ENOUGH || this == LIMIT_REACHED;
        }
    }

    public Series {
        runs = List.copyOf(runs);
        kept = List.copyOf(kept);
    }

    /** A series before its first catch. */
    public static Series planned(Repeats repeats) {
        return new Series(repeats, List.of(), List.of());
    }

    /** With one more catch. */
    public Series with(Run run) {
        List<Run> more = new ArrayList<>(runs);
        more.add(run);
        return new Series(repeats, more, kept);
    }

    /** After a person has said that this run stays. */
    public Series keeping(Run run) {
        List<String> more = new ArrayList<>(kept);
        more.add(run.name());
        return new Series(repeats, runs, more);
    }

    /** The end that a person makes who does not keep a run that stands out. */
    public static End endedAt(Run run, String why) {
        return new End(
                How.OUTLIER,
                "Run "
                        + run.name()
                        + " stands out and was not kept: "
                        + why
                        + ". Find its cause, then begin a new series.");
    }

    /** The completed valid catches. */
    public List<Run> counted() {
        return runs.stream().filter(run -> run.result().isPresent()).toList();
    }

    /** What to do after the latest catch; there must be one. */
    public Next next() {
        return switch (runs.getLast().outcome()) {
            case Outcome.Void v -> afterVoid(v);
            case Outcome.Measured m -> afterMeasured(m.result());
            case Outcome.Stopped s -> over(How.STOPPED, s.reason());
            case Outcome.Refused r -> over(How.STOPPED, r.reason());
            case Outcome.Interrupted i -> over(How.STOPPED, i.reason());
        };
    }

    private static Next over(How how, String reason) {
        return new Next.Over(new End(how, reason));
    }

    private Next afterVoid(Outcome.Void v) {
        if (forbidsToGoOn(v.cause())) {
            return over(How.VOID, "No further run after this: " + v.reason());
        }
        int inARow = 0;
        for (Run run : runs.reversed()) {
            if (run.result().isPresent()) {
                break;
            }
            inARow++;
        }
        return inARow < repeats.voidsMax()
                ? new Next.Again("The run is void and does not count.")
                : over(
                        How.VOID,
                        inARow
                                + (inARow == 1 ? " run" : " runs in a row")
                                + " came to nothing, as many as the settings allow. Put right what"
                                + " the last one says: "
                                + v.reason());
    }

    /**
     * After some ends of a run nobody is asked to begin the next: the bay or its people need
     * looking after.
     */
    private static boolean forbidsToGoOn(Outcome.Cause cause) {
        return switch (cause) {
            case EMERGENCY_STOP,
                    HIGH_LEVEL,
                    SPILL,
                    OVERFILL,
                    PORT_FAILED,
                    TRACE_FAILED,
                    NO_ANSWER,
                    SUPPLY_LOST,
                    NO_FLOW,
                    FLOW_UNCOMMANDED,
                    LEAK,
                    RUNAWAY,
                    SCALE_FROZEN,
                    TANK_NOT_EMPTIED,
                    PRESSURE_HIGH,
                    TEMPERATURE_OUTSIDE,
                    ATTENDANT_ABSENT,
                    DISK_LOW,
                    TIME_LIMIT ->
                    true;
            case EDGES_LOST,
                    PULSES_LEAP,
                    CHANNELS_PART,
                    WINDOW_UNUSABLE,
                    OUT_OF_RANGE,
                    NOT_SETTLED,
                    FLOW_STOPPED,
                    NOT_AT_REST,
                    DIVERTER_NOT_ARRIVED,
                    DIVERTER_MOVED,
                    SCALE_SILENT,
                    SCALE_CHANGED,
                    SCALE_NOT_AT_REST,
                    REFERENCES_DISAGREE,
                    TEMPERATURE_LOST,
                    REPORT_UNUSABLE ->
                    false;
        };
    }

    private Next afterMeasured(CatchResult latest) {
        if (latest.comparison().reported().volume().litres() == 0) {
            return over(
                    How.STOPPED,
                    "The controller reported nothing, so its runs cannot be compared; check its"
                            + " meter and wiring.");
        }
        double[] overs = MeanOfCatches.overs(catches());
        if (Grubbs.test(overs) instanceof Grubbs.Finding.Flagged flagged) {
            Run far = counted().get(flagged.index());
            double mean = Arrays.stream(overs).average().orElseThrow();
            boolean seen = Math.abs(flagged.value() - mean) >= STANDS_OUT_LEAST;
            if (seen && !kept.contains(far.name())) {
                return new Next.Ask(far, flagged);
            }
        }
        return switch (Repeatability.after(repeats.plan(), overs)) {
            case Repeatability.Decision.RunAgain(String reason) -> new Next.Again(reason);
            case Repeatability.Decision.Refused(String reason) -> over(How.IDENTICAL, reason);
            case Repeatability.Decision.Enough(Ratio range, Ratio limit) ->
                    new Next.Over(
                            new End(
                                    How.ENOUGH,
                                    String.format(
                                            Locale.ROOT,
                                            "%d runs lie %.3f %% apart, within the %.3f %% that so"
                                                    + " many may: enough.",
                                            overs.length,
                                            range.percent(),
                                            limit.percent()),
                                    Optional.of(range),
                                    Optional.of(limit)));
            case Repeatability.Decision.LimitReached(Ratio range, Ratio limit, String advice) ->
                    new Next.Over(
                            new End(
                                    How.LIMIT_REACHED,
                                    advice,
                                    Optional.of(range),
                                    Optional.of(limit)));
        };
    }

    private List<MeanOfCatches.Catch> catches() {
        return counted().stream()
                .map(run ->
                        new MeanOfCatches.Catch(run.day(), run.result().orElseThrow().comparison()))
                .toList();
    }

    /**
     * The mean of what counts; empty where nothing does, or where the controller reported nothing.
     *
     * @param planned how catches scatter by what is known from earlier work; the usual figure,
     *     which nobody here has measured, is not pooled with what the series shows
     */
    public Optional<MeanOfCatches> mean(Doubts.Scatter planned) {
        return mean(catches(), repeats.plan().runs(), planned);
    }

    /** As {@link #mean(Doubts.Scatter)}, of catches of which so many were planned. */
    public static Optional<MeanOfCatches> mean(
            List<MeanOfCatches.Catch> catches, int plannedRuns, Doubts.Scatter planned) {
        boolean silent =
                catches.stream().anyMatch(c -> c.comparison().reported().volume().litres() == 0);
        if (catches.isEmpty() || silent) {
            return Optional.empty();
        }
        Optional<Scatter> earlier =
                planned.run().value() == 0
                        ? Optional.empty()
                        : Optional.of(new Scatter(planned.run().value(), planned.runs() - 1));
        return Optional.of(
                MeanOfCatches.of(
                        catches, plannedRuns, earlier, !planned.equals(Doubts.Scatter.USUAL)));
    }

    /** What to do with the truck's constant after this series, by its mean. */
    public ConstantAdvice advice(RunSetup setup, MeanOfCatches mean, End end) {
        String unfit = end.how().asPlanned() ? null : "the series did not end as planned";
        for (Run run : counted()) {
            if (unfit == null
                    && run.result().orElseThrow().advice() instanceof ConstantAdvice.Keep keep
                    && keep.unfit().isPresent()) {
                unfit = "run " + run.name() + ": " + keep.unfit().get();
            }
        }
        return ConstantAdvice.after(
                mean.budget(),
                mean.runs(),
                setup.truck().constant(),
                setup.truck().control(),
                unfit);
    }
}
