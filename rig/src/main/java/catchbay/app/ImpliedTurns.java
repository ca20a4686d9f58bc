package catchbay.app;

import catchbay.record.DocumentException;
import catchbay.record.TraceLine;
import catchbay.record.TraceReader;
import catchbay.run.BayCommand;
import catchbay.run.BayComputer;
import catchbay.run.Outcome;
import catchbay.run.Question;
import catchbay.run.RunInput;
import catchbay.run.RunMachine;
import catchbay.run.RunState;
import catchbay.run.RunStep;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PulseLine;

import java.io.IOException;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.Deque;
import java.util.List;
import java.util.Optional;

/**
 * Plays a trace written by hand: its lines tell what happens and when, and the turns are made here
 * on the loop's grid. A person who answers a question before it is asked is taken to answer as soon
 * as it is.
 */
final class ImpliedTurns {

    /**
     * How long after its last line a run may go on: longer than any rest, drip and drain of a
     * sensible catch, ns.
     */
    private static final long TAIL_NANOS = 3_600_000_000_000L;

    /**
     * The most lines of a trace written by hand: all of them are kept in the heap of a small
     * computer.
     */
    static final int LINES_MAX = 200_000;

    /** The most edges of its lines, trains not counted. */
    static final int EDGES_MAX = 2_000_000;

    /** Edges that may come in part: the rest waits for its time. */
    private static final class Edges {
        private final PulseLine line;
        private final TraceLine.Train train;
        private EdgeBatch batch;
        private int next;

        Edges(PulseLine line, TraceLine.Train train, EdgeBatch batch) {
            this.line = line;
            this.train = train;
            this.batch = batch;
        }

        long nextNanos() {
            return train == null ? batch.firstNanos() : train.stampNanos(next);
        }

        /** Takes out what has come up to now; at least one edge has. */
        EdgeBatch upTo(long now) {
            if (train == null) {
                int count = batch.countUpTo(now);
                EdgeBatch part = batch.head(count);
                batch = count == batch.size() ? null : batch.tail(count);
                return part;
            }
            int count = 0;
            while (next + count < train.count() && train.stampNanos(next + count) <= now) {
                count++;
            }
            EdgeBatch part = train.part(next, count);
            next += count;
            return part;
        }

        boolean isEmpty() {
            return train == null ? batch == null : next == train.count();
        }
    }

    private final List<RunInput> events = new ArrayList<>();
    private final List<Deque<Edges>> edges = new ArrayList<>();
    private final Deque<RunInput> answers = new ArrayDeque<>();
    private long lastNanos;
    private int edgesRead;
    private RunState state;
    private Question open;

    private ImpliedTurns(TraceReader reader) throws IOException {
        for (PulseLine _ : PulseLine.values()) {
            edges.add(new ArrayDeque<>());
        }
        long firstNanos = read(reader);
        state = RunMachine.begin(reader.header().setup());
        events.sort(Comparator.comparingLong(RunInput::atNanos));
        play(firstNanos);
    }

    /** The outcome of the whole trace. */
    static Outcome outcome(TraceReader reader) throws IOException {
        RunState last = new ImpliedTurns(reader).state;
        return last instanceof RunState.Ended ended
                ? ended.outcome()
                : new Outcome.Interrupted(
                        "The trace ends while "
                                + Words.of(last)
                                + "; add the lines that it lacks.");
    }

    private long read(TraceReader reader) throws IOException {
        long first = Long.MAX_VALUE;
        Optional<TraceLine> line = reader.next();
        int lines = 0;
        while (line.isPresent()) {
            if (++lines > LINES_MAX) {
                throw new DocumentException(
                        "a trace with implied turns has at most "
                                + LINES_MAX
                                + " lines; shorten it, or write trains");
            }
            first = Math.min(first, take(line.get()));
            line = reader.next();
        }
        if (first == Long.MAX_VALUE) {
            throw new DocumentException(
                    "the trace says nothing after its first line; add what happened, line by line");
        }
        return first;
    }

    private long take(TraceLine line) {
        return switch (line) {
            case TraceLine.Input(RunInput input) -> {
                lastNanos = Math.max(lastNanos, input.atNanos());
                put(input);
                yield input.atNanos();
            }
            case TraceLine.Train train -> {
                lastNanos = Math.max(lastNanos, train.stampNanos(train.count() - 1));
                edges.get(train.line().ordinal()).add(new Edges(train.line(), train, null));
                yield train.firstNanos();
            }
            // What a run would come to is found here anew; a person's closing line seals nothing.
            case TraceLine.Computer(long at, BayComputer told) -> at;
            case TraceLine.State(long at, String key) -> at;
            case TraceLine.Command(long at, BayCommand command) -> at;
            case TraceLine.Closing closing -> closing.atNanos();
            case TraceLine.Header header ->
                    throw new AssertionError("the reader gives one header: " + header);
        };
    }

    private void put(RunInput input) {
        switch (input) {
            case RunInput.Edges(PulseLine line, EdgeBatch batch) -> {
                edgesRead += batch.size();
                if (edgesRead > EDGES_MAX) {
                    throw new DocumentException(
                            "a trace with implied turns has at most "
                                    + EDGES_MAX
                                    + " edges outside trains; shorten it, or write trains");
                }
                lastNanos = Math.max(lastNanos, batch.lastNanos());
                edges.get(line.ordinal()).add(new Edges(line, null, batch));
            }
            case RunInput.ChecklistConfirmed confirmed -> answers.add(confirmed);
            case RunInput.SpeedConfirmed confirmed -> answers.add(confirmed);
            case RunInput.Done done -> answers.add(done);
            case RunInput.TotalTyped typed -> answers.add(typed);
            case RunInput.SaltTyped typed -> answers.add(typed);
            // Turns and the medium are this player's own.
            case RunInput.Turn _ -> {}
            case RunInput.TraceDurable _ -> {}
            case RunInput.Contact contact -> events.add(contact);
            case RunInput.Scale scale -> events.add(scale);
            case RunInput.ControllerTotal total -> events.add(total);
            case RunInput.Unread unread -> events.add(unread);
            case RunInput.Thermometer thermometer -> events.add(thermometer);
            case RunInput.CouplerPressure pressure -> events.add(pressure);
            case RunInput.PulsesSent sent -> events.add(sent);
            case RunInput.DiskFree free -> events.add(free);
            case RunInput.StopPressed stop -> events.add(stop);
            case RunInput.PortFailed failed -> events.add(failed);
            case RunInput.TraceFailed failed -> events.add(failed);
        }
    }

    private void play(long firstNanos) {
        int next = 0;
        long now = firstNanos;
        while (!(state instanceof RunState.Ended) && now <= lastNanos + TAIL_NANOS) {
            step(new RunInput.Turn(now));
            while (next < events.size() && events.get(next).atNanos() <= now) {
                step(events.get(next++));
            }
            for (Deque<Edges> line : edges) {
                while (!line.isEmpty() && line.peek().nextNanos() <= now) {
                    step(new RunInput.Edges(line.peek().line, line.peek().upTo(now)));
                    if (line.peek().isEmpty()) {
                        line.remove();
                    }
                }
            }
            answer(now);
            if (state instanceof RunState.Comparing) {
                step(new RunInput.TraceDurable(now, now));
            }
            now += RunLoop.TURN_NANOS;
        }
    }

    /** Gives the next answer when its question is open and its time has come. */
    private void answer(long now) {
        RunInput given = answers.peek();
        if (open == null || given == null || given.atNanos() > now) {
            return;
        }
        RunInput fitting = null;
        if (given instanceof RunInput.ChecklistConfirmed confirmed && open == Question.CHECKLIST) {
            fitting = new RunInput.ChecklistConfirmed(now, confirmed.by());
        } else if (given instanceof RunInput.SpeedConfirmed confirmed
                && open == Question.SPEED_CHECKLIST) {
            fitting = new RunInput.SpeedConfirmed(now, confirmed.by());
        } else if (given instanceof RunInput.Done done && open == done.question()) {
            fitting = new RunInput.Done(now, open);
        } else if (given instanceof RunInput.TotalTyped typed && open.asksTotal()) {
            fitting = new RunInput.TotalTyped(now, typed.total());
        } else if (given instanceof RunInput.SaltTyped typed && open == Question.SALT_REPORTED) {
            fitting = new RunInput.SaltTyped(now, typed.salt());
        }
        if (fitting != null) {
            answers.remove();
            open = null;
            step(fitting);
        }
    }

    private void step(RunInput input) {
        RunStep step = RunMachine.step(state, input);
        state = step.state();
        for (BayCommand command : step.commands()) {
            if (command instanceof BayCommand.Ask(Question question)) {
                open = question;
            }
        }
    }
}
