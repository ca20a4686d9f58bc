package catchbay.sim.campaign;

import catchbay.metrology.Comparison;
import catchbay.metrology.Tolerance;
import catchbay.plan.SweepResult;
import catchbay.record.DocumentException;
import catchbay.record.TraceLine;
import catchbay.record.TraceReader;
import catchbay.record.TraceText;
import catchbay.run.CatchResult;
import catchbay.run.Judgement;
import catchbay.run.Outcome;
import catchbay.run.RunMachine;
import catchbay.run.RunSetup;
import catchbay.run.RunState;
import catchbay.run.Session;
import catchbay.sim.Bounds;
import catchbay.sim.Fault;
import catchbay.sim.FaultKind;
import catchbay.sim.Outlook;
import catchbay.sim.Scenario;
import catchbay.sim.World;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.stream.Stream;

/**
 * A sweep with its faults held against the same sweep without them. An accepted result is wrong
 * where what went wrong has moved its error against the truth by more than its own expanded
 * uncertainty, 95 %, and by more than two catches with nothing wrong differ by what counting and
 * reading cannot resolve.
 */
final class SweepCheck {

    /** What a scale shows of a tank once what it showed wrongly is over. */
    private static final Set<Outcome.Cause> OF_ANOTHER_WEIGHT =
            EnumSet.of(Outcome.Cause.LEAK, Outcome.Cause.TANK_NOT_EMPTIED);

    /** For what a truck is stopped that gives far more than it is asked, or than was planned. */
    private static final Set<Outcome.Cause> OF_WRONG_CONSTANT =
            EnumSet.of(Outcome.Cause.RUNAWAY, Outcome.Cause.OVERFILL);

    /** What came of the catch that something went wrong in. */
    enum End {
        /** It ended without a result. */
        VOID,
        /** It was accepted, with a note that the one without the fault does not have. */
        TOLD,
        /** It was accepted, with a right result and without a word. */
        RIGHT,
        /** It was accepted, and wrong. */
        WRONG
    }

    /**
     * One fault that truly began before its catch ended.
     *
     * @param fault which
     * @param outlook what was to be expected of it
     * @param end what came of its catch
     * @param falseAlarm whether it was void for a cause that the faults do not explain
     * @param noticedNanos from its beginning to the end of a catch that it made void
     */
    record Strike(
            Fault fault, Outlook outlook, End end, boolean falseAlarm, OptionalLong noticedNanos) {}

    private final DrawnSweep drawn;
    private final PlayedSweep clean;
    private final PlayedSweep faulty;
    private final List<String> complaints = new ArrayList<>();
    private final List<Strike> strikes = new ArrayList<>();
    private boolean unseen;

    private SweepCheck(DrawnSweep drawn) {
        this.drawn = drawn;
        clean = PlayedSweep.of(drawn, false);
        faulty = PlayedSweep.of(drawn, true);
        clean.complaints().forEach(complaint -> complaints.add("without faults, " + complaint));
        complaints.addAll(faulty.complaints());
        for (PlayedSweep.Caught one : clean.catches()) {
            if (!(one.outcome() instanceof Outcome.Measured)) {
                complaints.add(
                        "false alarm without a fault at leg " + one.leg() + ": " + one.outcome());
            }
        }
        for (int i = 0; i < faulty.catches().size(); i++) {
            judge(i);
        }
        struck().ifPresent(this::readTrace);
        closed();
    }

    /** Plays the sweep both ways and judges it. */
    static SweepCheck of(DrawnSweep drawn) {
        return new SweepCheck(drawn);
    }

    /** What must not be, each as a sentence; empty when all is well. */
    List<String> complaints() {
        return List.copyOf(complaints);
    }

    /** What went wrong, and what came of it. */
    List<Strike> strikes() {
        return List.copyOf(strikes);
    }

    /** How many catches of the sweep without faults were not measured. */
    int falseAlarms() {
        return (int)
                clean.catches().stream()
                        .filter(one -> !(one.outcome() instanceof Outcome.Measured))
                        .count();
    }

    /** How many catches were played, with the faults and without. */
    int catches() {
        return clean.catches().size() + faulty.catches().size();
    }

    /** Whether the tank has run over with the faults. */
    boolean overflowed() {
        return faulty.overflowed();
    }

    /** Whether one thing alone went wrong. */
    boolean single() {
        return drawn.single();
    }

    /** The sweep, what is wrong with it, and what led to it. */
    String report() {
        StringBuilder text = new StringBuilder(drawn.usual().name());
        text.append(", catch ").append(drawn.struck() + 1);
        text.append(" of ").append(faulty.catches().size());
        complaints.forEach(complaint -> text.append("\n  ").append(complaint));
        for (Fault fault : drawn.faults()) {
            text.append("\n  fault: ").append(fault.text());
        }
        return text.toString();
    }

    private void judge(int number) {
        PlayedSweep.Caught with = faulty.catches().get(number);
        boolean struck = number == drawn.struck();
        if (!struck && !(with.outcome() instanceof Outcome.Measured)) {
            if (number == drawn.struck() + 1
                    && with.outcome() instanceof Outcome.Void(var cause, var _)
                    && OF_ANOTHER_WEIGHT.contains(cause)) {
                // What the scale showed wrongly at the end of the struck catch it shows no more.
                return;
            }
            if (ofWrongConstant(with)) {
                return;
            }
            complaints.add(
                    (number < drawn.struck() ? "before" : "after")
                            + " what went wrong, catch "
                            + (number + 1)
                            + " ended "
                            + with.outcome());
            return;
        }
        Optional<PlayedSweep.Caught> without = alike(number);
        if (without.isEmpty()) {
            // The sweep without faults has nothing measured there, which is complained of.
            return;
        }
        Optional<String> moved =
                with.outcome() instanceof Outcome.Measured(var result)
                        ? moved(with, without.get(), result)
                        : Optional.empty();
        if (struck) {
            struck(with, without.get(), moved);
        } else {
            moved.ifPresent(how -> complaints.add("catch " + (number + 1) + " untouched: " + how));
        }
    }

    /**
     * Whether a truck gave more than was asked, with a constant that follows from what nobody could
     * have noticed: it is stopped for it, as it must be.
     */
    private boolean ofWrongConstant(PlayedSweep.Caught one) {
        return unseen
                && strikes.stream().anyMatch(strike -> strike.end() == End.WRONG)
                && one.setup().session().stage() == Session.Stage.AS_LEFT
                && one.outcome() instanceof Outcome.Void(var cause, var _)
                && OF_WRONG_CONSTANT.contains(cause);
    }

    /**
     * The catch of the sweep without faults that one is held against: of the same leg, and as many
     * of that were measured before; the last one where it had no need of so many.
     */
    private Optional<PlayedSweep.Caught> alike(int number) {
        int leg = faulty.catches().get(number).leg();
        long before = measured(faulty.catches().subList(0, number), leg).count();
        List<PlayedSweep.Caught> all = measured(clean.catches(), leg).toList();
        return all.isEmpty()
                ? Optional.empty()
                : Optional.of(all.get((int) Math.min(before, all.size() - 1)));
    }

    private static Stream<PlayedSweep.Caught> measured(List<PlayedSweep.Caught> all, int leg) {
        return all.stream()
                .filter(one -> one.leg() == leg && one.outcome() instanceof Outcome.Measured);
    }

    private void struck(
            PlayedSweep.Caught with, PlayedSweep.Caught without, Optional<String> moved) {
        List<World.Struck> begun =
                faulty.struck().stream()
                        .filter(one -> one.fromNanos() <= with.endedNanos())
                        .toList();
        boolean falseAlarm = false;
        End end =
                switch (with.outcome()) {
                    case Outcome.Measured(var result) ->
                            moved.isPresent()
                                    ? End.WRONG
                                    : told(result, without) ? End.TOLD : End.RIGHT;
                    case Outcome.Void(var cause, var reason) -> {
                        falseAlarm = !causes(begun).contains(cause);
                        if (falseAlarm) {
                            complaints.add("false alarm " + cause + ": " + reason);
                        }
                        yield End.VOID;
                    }
                    case Outcome.Interrupted _ -> {
                        if (begun.stream().noneMatch(SweepCheck::cutsPower)) {
                            complaints.add("interrupted, and the power was never cut");
                        }
                        yield End.VOID;
                    }
                    case Outcome.Stopped _, Outcome.Refused _ -> {
                        complaints.add("nobody asked for the end " + with.outcome());
                        yield End.VOID;
                    }
                };
        Scenario scenario = drawn.usual().with(with.setup()).with(drawn.faults());
        for (World.Struck one : begun) {
            Outlook outlook = Outlook.of(one.fault(), scenario);
            unseen |= outlook.effect() != Outlook.Effect.COURSE && !outlook.detectable();
            if (outlook.fatal() && end != End.VOID && !with.untouched().contains(one.fault())) {
                complaints.add("accepted in spite of " + one.fault().text());
            }
            OptionalLong noticed =
                    end == End.VOID
                            ? OptionalLong.of(with.endedNanos() - one.fromNanos())
                            : OptionalLong.empty();
            strikes.add(new Strike(one.fault(), outlook, end, falseAlarm, noticed));
        }
        if (end == End.WRONG && !unseen) {
            complaints.add("accepted, and wrong: " + moved.orElseThrow());
        }
    }

    private static boolean cutsPower(World.Struck one) {
        return one.fault().kind() == FaultKind.POWER_CUT;
    }

    /** The catch that something went wrong in, where the sweep came to it. */
    private Optional<PlayedSweep.Caught> struck() {
        return faulty.catches().size() > drawn.struck()
                ? Optional.of(faulty.catches().get(drawn.struck()))
                : Optional.empty();
    }

    /**
     * No truck is passed whose error is truly outside its tolerance by more than what is said that
     * it may be off, but by what nobody could have noticed.
     */
    private void closed() {
        complainOf("without faults", clean);
        if (!unseen) {
            complainOf("with them", faulty);
        }
    }

    private void complainOf(String which, PlayedSweep sweep) {
        if (sweep.result().closing() != SweepResult.Closing.PASSED
                || drawn.usual().setup().judgement().on() != Judgement.On.METER) {
            return;
        }
        boolean entered = sweep.result().sweep().entered().isPresent();
        for (SweepResult.LegResult leg : sweep.result().legs()) {
            if (leg.leg().verifying() != entered) {
                continue;
            }
            double truth =
                    measured(sweep.catches(), leg.leg().number())
                            .mapToDouble(SweepCheck::trueError)
                            .average()
                            .orElseThrow();
            double within = leg.within().orElseThrow().value();
            Tolerance tolerance = drawn.usual().setup().judgement().tolerance();
            boolean outside =
                    tolerance.upper().filter(most -> truth > most.value() + within).isPresent()
                            || tolerance
                                    .lower()
                                    .filter(least -> truth < least.value() - within)
                                    .isPresent();
            if (outside) {
                complaints.add(
                        String.format(
                                Locale.ROOT,
                                "passed %s, and its true error at %s is %.3f %%",
                                which,
                                leg.leg().words(),
                                100 * truth));
            }
        }
    }

    private static Set<Outcome.Cause> causes(List<World.Struck> begun) {
        Set<Outcome.Cause> causes = EnumSet.noneOf(Outcome.Cause.class);
        begun.forEach(one -> causes.addAll(one.fault().kind().causes()));
        return causes;
    }

    /** How the faults moved an accepted result by more than it says that it may be off. */
    private Optional<String> moved(
            PlayedSweep.Caught with, PlayedSweep.Caught without, CatchResult result) {
        Comparison now = result.comparison();
        Comparison then = ((Outcome.Measured) without.outcome()).result().comparison();
        double amount = amountOff(now, with) - amountOff(then, without);
        Scenario scenario = drawn.usual().with(with.setup());
        double repeated = Bounds.repeated(scenario, with.truth());
        double amountMay =
                Math.max(
                        repeated,
                        now.measured().expanded().litres() / now.measured().volume().litres());
        if (Math.abs(amount) > amountMay) {
            return Optional.of(sentence("measured volume", amount, amountMay));
        }
        double error = errorOff(now, with) - errorOff(then, without);
        double reported = Bounds.reported(scenario, with.truth()).litres() / with.truth().litres();
        double errorMay =
                Math.max(repeated + reported, now.expanded(Comparison.METER_ERROR).value());
        return Math.abs(error) > errorMay
                ? Optional.of(sentence("meter error", error, errorMay))
                : Optional.empty();
    }

    private static String sentence(String what, double by, double may) {
        return String.format(
                Locale.ROOT, "%s moved by %.3f %%, may by %.3f %%", what, 100 * by, 100 * may);
    }

    private static double amountOff(Comparison said, PlayedSweep.Caught one) {
        return said.measured().volume().litres() / one.truth().litres() - 1;
    }

    private static double errorOff(Comparison said, PlayedSweep.Caught one) {
        return said.meterError().value() - trueError(one);
    }

    private static double trueError(PlayedSweep.Caught one) {
        return one.counted().litres() / one.truth().litres() - 1;
    }

    /** Whether the result says something that it does not say without the fault. */
    private static boolean told(CatchResult result, PlayedSweep.Caught alike) {
        CatchResult without = ((Outcome.Measured) alike.outcome()).result();
        return result.disturbance().isPresent() && without.disturbance().isEmpty()
                || !words(without).containsAll(words(result));
    }

    /** Its notes without their figures. */
    private static Set<String> words(CatchResult result) {
        Set<String> words = new HashSet<>();
        result.notes().forEach(note -> words.add(note.replaceAll("[0-9.]+", "#")));
        return words;
    }

    /** The struck catch's trace, read back from its bytes, must come to the same end. */
    private void readTrace(PlayedSweep.Caught one) {
        RunSetup setup = one.setup();
        TraceText header = new TraceText();
        header.header(
                TraceLine.Header.recorded(
                        RunMachine.METHOD_VERSION,
                        "campaign",
                        TraceLine.Origin.SIMULATED,
                        "campaign",
                        Instant.EPOCH,
                        "campaign",
                        setup));
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        bytes.write(header.bytes(), 0, header.length());
        bytes.writeBytes(one.trace());
        try (TraceReader reader =
                new TraceReader(new ByteArrayInputStream(bytes.toByteArray()), "the trace")) {
            RunState state = RunMachine.begin(reader.header().setup());
            for (Optional<TraceLine> line = reader.next(); line.isPresent(); line = reader.next()) {
                if (line.get() instanceof TraceLine.Input(var input)) {
                    state = RunMachine.step(state, input).state();
                }
            }
            String again =
                    state instanceof RunState.Ended(var _, var end) ? end.key() : "interrupted";
            if (!again.equals(one.outcome().key())) {
                complaints.add(
                        "its trace comes to " + again + ", the catch to " + one.outcome().key());
            }
        } catch (DocumentException | IOException torn) {
            complaints.add("its trace cannot be read: " + torn.getMessage());
        }
        tear(bytes.toByteArray());
    }

    /** A trace that breaks off in its last line, as at a power cut, gives all lines but that. */
    private void tear(byte[] whole) {
        int last = whole.length - 2;
        while (whole[last] != '\n') {
            last--;
        }
        byte[] torn = Arrays.copyOf(whole, (last + whole.length) / 2);
        long lines = 0;
        try (TraceReader reader = new TraceReader(new ByteArrayInputStream(torn), "the trace")) {
            while (reader.next().isPresent()) {
                lines++;
            }
            complaints.add("half a line of its trace was taken for a whole one");
        } catch (DocumentException half) {
            long written = new String(torn, StandardCharsets.UTF_8).lines().count() - 2;
            if (lines != written) {
                complaints.add(
                        "of its torn trace " + lines + " of " + written + " lines were read");
            }
        } catch (IOException impossible) {
            throw new AssertionError("memory can be read", impossible);
        }
    }
}
