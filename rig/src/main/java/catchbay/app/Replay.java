package catchbay.app;

import catchbay.record.DocumentException;
import catchbay.record.ResultText;
import catchbay.record.TraceLine;
import catchbay.record.TraceReader;
import catchbay.record.TraceSeal;
import catchbay.record.TraceText;
import catchbay.run.BayCommand;
import catchbay.run.BayComputer;
import catchbay.run.Outcome;
import catchbay.run.RunInput;
import catchbay.run.RunMachine;
import catchbay.run.RunSetup;
import catchbay.run.RunState;
import catchbay.run.RunStep;

import java.io.BufferedInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.List;
import java.util.Optional;
import java.util.Queue;

/**
 * Evaluates a trace again, from the trace alone. A recorded one must come to the same states and
 * commands in the same order; one written by hand gets its turns from {@link ImpliedTurns}.
 */
final class Replay {

    /**
     * What a trace gives.
     *
     * @param startedWall when its run began, where its first line says so
     */
    record Result(
            ResultText.Provenance provenance,
            RunSetup setup,
            Optional<Instant> startedWall,
            Outcome outcome) {}

    private final TraceReader reader;

    /** Made under an earlier method: what it tells of states and commands was that method's. */
    private final boolean earlier;

    private final Queue<TraceLine> due = new ArrayDeque<>();
    private BayComputer computer = BayComputer.UNKNOWN;
    private RunState state;
    private long endedNanos;

    private Replay(TraceReader reader, boolean earlier) {
        this.reader = reader;
        this.earlier = earlier;
        this.state = RunMachine.begin(reader.header().setup());
    }

    /** Replays a trace file, compressed or not. */
    static Result of(Path file) {
        try (InputStream bytes = new BufferedInputStream(Files.newInputStream(file));
                TraceReader reader = new TraceReader(bytes, file.getFileName().toString())) {
            return of(reader);
        } catch (IOException e) {
            throw new DocumentException(
                    UnreadableFile.why(file, e) + "; give the path of a trace file");
        }
    }

    static Result of(TraceReader reader) throws IOException {
        TraceLine.Header header = reader.header();
        int method = header.method().orElse(RunMachine.METHOD_VERSION);
        if (method > RunMachine.METHOD_VERSION) {
            throw new DocumentException(
                    "the trace was made under method version "
                            + method
                            + ", and this program knows up to "
                            + RunMachine.METHOD_VERSION
                            + "; replay it with the newer program that made it");
        }
        if (header.turns() == TraceLine.Turns.IMPLIED) {
            Outcome outcome = ImpliedTurns.outcome(reader);
            return new Result(
                    provenance(header, ResultText.Seal.UNSEALED),
                    header.setup(),
                    header.wall(),
                    outcome);
        }
        return new Replay(reader, method < RunMachine.METHOD_VERSION).recorded();
    }

    private Result recorded() throws IOException {
        String differs = null;
        Optional<TraceLine> line = reader.next();
        while (line.isPresent()) {
            if (differs == null) {
                differs = follow(line.get());
            }
            line = reader.next();
        }
        TraceLine.Header header = reader.header();
        return switch (reader.seal()) {
            case TraceSeal.Damaged(String reason) ->
                    result(header, ResultText.Seal.DAMAGED, new Outcome.Refused(sentence(reason)));
            case TraceSeal.Unsealed(String reason) ->
                    result(
                            header,
                            ResultText.Seal.UNSEALED,
                            new Outcome.Interrupted(brokenOff(reason)));
            case TraceSeal.Sealed(TraceLine.Closing closing, String sha256) ->
                    sealed(header, closing, differs);
        };
    }

    private Result sealed(TraceLine.Header header, TraceLine.Closing closing, String differs) {
        if (earlier) {
            return reevaluated(header, closing);
        }
        String why = differs;
        if (why == null && !(state instanceof RunState.Ended)) {
            why =
                    "its run had not come to an end, though the closing line says '"
                            + closing.end()
                            + "'";
        }
        if (why == null) {
            Outcome outcome = ((RunState.Ended) state).outcome();
            why = contradiction(outcome, closing);
            if (why == null) {
                return result(header, ResultText.Seal.SEALED, outcome);
            }
        }
        return result(
                header,
                ResultText.Seal.DAMAGED,
                new Outcome.Refused(
                        "The trace does not replay as it was recorded: "
                                + why
                                + "; restore it from a copy, or replay it with the program that"
                                + " made it."));
    }

    /** What a run of an earlier method comes to now, beside what it came to then. */
    private Result reevaluated(TraceLine.Header header, TraceLine.Closing closing) {
        Outcome outcome =
                state instanceof RunState.Ended ended
                        ? ended.outcome()
                        : new Outcome.Interrupted(
                                "Under method version "
                                        + RunMachine.METHOD_VERSION
                                        + " the run would not end where it did, but go on "
                                        + Words.of(state)
                                        + ".");
        int method = header.method().orElseThrow();
        if (method < RunMachine.JUDGED_SINCE && outcome instanceof Outcome.Measured measured) {
            outcome = new Outcome.Measured(measured.result().withoutVerdict());
        }
        ResultText.Recorded recorded =
                new ResultText.Recorded(
                        method,
                        closing.end(),
                        closing.reason(),
                        RunMachine.changesSince(method),
                        Optional.empty());
        return new Result(
                new ResultText.Provenance(
                        header.run().orElse(""),
                        header.origin().key(),
                        ResultText.Seal.SEALED,
                        RunMachine.METHOD_VERSION,
                        Optional.of(recorded),
                        computer),
                header.setup(),
                header.wall(),
                outcome);
    }

    /**
     * How the closing line, which no hash covers, says another end than the run comes to; null when
     * it says the same.
     */
    private String contradiction(Outcome outcome, TraceLine.Closing closing) {
        if (!outcome.key().equals(closing.end())) {
            return "it comes to '"
                    + outcome.key()
                    + "', though the closing line says '"
                    + closing.end()
                    + "'";
        }
        if (!outcome.reason().equals(closing.reason())) {
            return "it ends with the reason '"
                    + outcome.reason()
                    + "', though the closing line says '"
                    + closing.reason()
                    + "'";
        }
        return closing.atNanos() == endedNanos
                ? null
                : "it ends at "
                        + endedNanos
                        + " ns, though the closing line says "
                        + closing.atNanos();
    }

    private String brokenOff(String reason) {
        return sentence(reason)
                + (state instanceof RunState.Ended
                        ? " Its run had come to its end, but without a closing line that is whole"
                                + " it does not count."
                        : " It breaks off while " + Words.of(state) + ", and does not count.");
    }

    /** One more line; answers how it differs from what the run comes to, or null. */
    private String follow(TraceLine line) {
        if (earlier) {
            if (line instanceof TraceLine.Computer(long at, BayComputer told)) {
                computer = computer.and(told);
            }
            if (line instanceof TraceLine.Input(RunInput input)
                    && !(state instanceof RunState.Ended)) {
                take(input);
            }
            return null;
        }
        return switch (line) {
            case TraceLine.Input(RunInput input) -> {
                if (!due.isEmpty()) {
                    yield "before line "
                            + reader.lineNumber()
                            + " the run comes to "
                            + text(due.peek())
                            + ", which the trace does not have";
                }
                if (state instanceof RunState.Ended) {
                    yield "line " + reader.lineNumber() + " comes after the run's end";
                }
                take(input);
                yield null;
            }
            case TraceLine.Computer(long at, BayComputer told) -> {
                computer = computer.and(told);
                yield null;
            }
            case TraceLine.State told -> same(told);
            case TraceLine.Command told -> same(told);
            case TraceLine.Train train ->
                    "line " + reader.lineNumber() + " is a train, which no run records";
            case TraceLine.Header header -> "line " + reader.lineNumber() + " is a second header";
            case TraceLine.Closing closing ->
                    due.isEmpty()
                            ? null
                            : "before the closing line the run comes to " + text(due.peek());
        };
    }

    private void take(RunInput input) {
        String before = state.key();
        RunStep step = RunMachine.step(state, input);
        state = step.state();
        endedNanos = input.atNanos();
        if (earlier) {
            return;
        }
        if (!state.key().equals(before)) {
            due.add(new TraceLine.State(input.atNanos(), state.key()));
        }
        for (BayCommand command : step.commands()) {
            due.add(new TraceLine.Command(input.atNanos(), command));
        }
    }

    private String same(TraceLine told) {
        TraceLine expected = due.poll();
        return told.equals(expected)
                ? null
                : "line "
                        + reader.lineNumber()
                        + " tells "
                        + text(told)
                        + ", but the run comes to "
                        + (expected == null ? "nothing more" : text(expected));
    }

    /** A line as it stands in a trace. */
    private static String text(TraceLine line) {
        TraceText text = new TraceText();
        text.line(line);
        return new String(text.bytes(), 0, text.length(), StandardCharsets.UTF_8).strip();
    }

    private Result result(TraceLine.Header header, ResultText.Seal seal, Outcome outcome) {
        return new Result(
                provenance(header, seal).on(computer), header.setup(), header.wall(), outcome);
    }

    /** What a result says of the trace with this header. */
    static ResultText.Provenance provenance(TraceLine.Header header, ResultText.Seal seal) {
        return new ResultText.Provenance(
                header.run().orElse(""), header.origin().key(), seal, RunMachine.METHOD_VERSION);
    }

    /** The words with a full stop at their end. */
    static String sentence(String words) {
        return List.of('.', '!').contains(words.charAt(words.length() - 1)) ? words : words + ".";
    }
}
