package catchbay.record;

import catchbay.run.BayCommand;
import catchbay.run.BayComputer;
import catchbay.run.RunInput;
import catchbay.run.RunSetup;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PulseLine;

import java.time.Instant;
import java.util.Arrays;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.regex.Pattern;

/** One line of a trace. Stamps are nanoseconds of the monotonic clock. */
public sealed interface TraceLine {

    /**
     * The highest stamp, ns: 146 years after the clock's origin, so that sums of stamps and
     * durations never overflow.
     */
    long STAMP_NANOS_MAX = Long.MAX_VALUE / 2;

    /** The highest number of an edge, so that counting on from it never overflows. */
    long SEQUENCE_MAX = Long.MAX_VALUE / 2;

    /** Where a trace comes from. */
    enum Origin {
        /** From a bay all of whose ports are real. */
        BAY("bay"),
        /** From a bay of which any port was a stand-in: for ever. */
        SIMULATED("simulated"),
        /** Written by hand. */
        WRITTEN("written");

        private final String key;

        Origin(String key) {
            this.key = key;
        }

        /** How traces and records call this origin. */
        public String key() {
            return key;
        }

        /** The origin of what a bay says, of which any port was a stand-in or none was. */
        public static Origin of(boolean simulated) {
            return simulated ? SIMULATED : BAY;
        }

        /** The origin called so; fails with a sentence that lists the known ones. */
        public static Origin ofKey(String key) {
            return known(key)
                    .orElseThrow(() ->
                            new IllegalArgumentException(
                                    "unknown origin '" + key + "'; use bay, simulated or written"));
        }

        /** The origin called so; empty where none is. */
        static Optional<Origin> known(String key) {
            return Arrays.stream(values()).filter(origin -> origin.key.equals(key)).findFirst();
        }
    }

    /** Whether a trace holds the turns of its run. */
    enum Turns {
        /** Every turn that mattered is a line. */
        RECORDED,
        /** The reader makes the turns, on a grid of 10 ms. */
        IMPLIED
    }

    /**
     * The first line.
     *
     * @param method version of the method that decided the run; empty where written by hand: the
     *     newest
     * @param run the run's identity: 1 to 64 letters, digits, hyphens and underscores; there when
     *     turns are recorded
     * @param origin where the trace comes from
     * @param boot the boot within which stamps can be compared; there when turns are recorded
     * @param wall when the run began, calendar time; there when turns are recorded
     * @param program version of the program; there when turns are recorded
     * @param turns whether the turns are in the trace
     * @param setup what the result depends on
     */
    record Header(
            OptionalInt method,
            Optional<String> run,
            Origin origin,
            Optional<String> boot,
            Optional<Instant> wall,
            Optional<String> program,
            Turns turns,
            RunSetup setup)
            implements TraceLine {

        /** What a run's identity looks like, so that it can be a file's name. */
        static final Pattern RUN = Pattern.compile("[A-Za-z0-9_-]{1,64}");

        public Header {
            if (run.isPresent() && !RUN.matcher(run.get()).matches()) {
                throw new IllegalArgumentException(
                        "run must be 1 to 64 letters, digits, hyphens and underscores, was '"
                                + run.get()
                                + "'");
            }
            boolean complete =
                    method.isPresent()
                            && run.isPresent()
                            && boot.isPresent()
                            && wall.isPresent()
                            && program.isPresent()
                            && origin != Origin.WRITTEN;
            if (turns == Turns.RECORDED && !complete) {
                throw new IllegalArgumentException(
                        "a trace with recorded turns needs method, run, origin (simulated or "
                                + "bay), boot, wall and program; write turns as implied in a "
                                + "trace of your own");
            }
        }

        /** The header that a run of this program writes. */
        public static Header recorded(
                int method,
                String run,
                Origin origin,
                String boot,
                Instant wall,
                String program,
                RunSetup setup) {
            return new Header(
                    OptionalInt.of(method),
                    Optional.of(run),
                    origin,
                    Optional.of(boot),
                    Optional.of(wall),
                    Optional.of(program),
                    Turns.RECORDED,
                    setup);
        }
    }

    /** Something the run learned. */
    record Input(RunInput input) implements TraceLine {}

    /**
     * An even train of edges, a shorthand of traces with implied turns.
     *
     * @param line the pulse line
     * @param firstSequence number of the first edge, >= 0
     * @param count how many edges, 1 to {@link #COUNT_MAX}
     * @param firstNanos stamp of the first edge, >= 0
     * @param spacing what sets the edges apart
     */
    record Train(PulseLine line, long firstSequence, int count, long firstNanos, Spacing spacing)
            implements TraceLine {

        /** So many that an index in nanoseconds is exact in floating point. */
        public static final int COUNT_MAX = 9_000_000;

        public Train {
            if (count < 1 || count > COUNT_MAX) {
                throw new IllegalArgumentException(
                        "a train must have 1 to " + COUNT_MAX + " edges, has " + count);
            }
            if (firstSequence < 0 || firstSequence > SEQUENCE_MAX || firstNanos < 0) {
                throw new IllegalArgumentException(
                        "a train must begin at a number and a stamp >= 0, begins at number "
                                + firstSequence
                                + " and "
                                + firstNanos
                                + " ns");
            }
            if (firstNanos > STAMP_NANOS_MAX
                    || spacing.afterNanos(count - 1) > STAMP_NANOS_MAX - firstNanos) {
                throw new IllegalArgumentException(
                        "a train must end at a stamp of at most " + STAMP_NANOS_MAX + " ns");
            }
        }

        /** The stamp of one edge. */
        public long stampNanos(int index) {
            return firstNanos + spacing.afterNanos(index);
        }

        /** Some of its edges, at least one. */
        public EdgeBatch part(int from, int edges) {
            long[] stamps = new long[edges];
            for (int i = 0; i < edges; i++) {
                stamps[i] = stampNanos(from + i);
            }
            return EdgeBatch.of(firstSequence + from, stamps);
        }
    }

    /** What sets the edges of a train apart. */
    sealed interface Spacing {

        /** From the first edge to the one so many later, ns. */
        long afterNanos(int edges);

        /** The same whole number of nanoseconds each time, > 0. */
        record Period(long nanos) implements Spacing {
            public Period {
                if (nanos <= 0 || nanos > 1_000_000_000_000L) {
                    throw new IllegalArgumentException(
                            "a period must be from 1 to 1000000000000 ns (1000 s), was " + nanos);
                }
            }

            @Override
            public long afterNanos(int edges) {
                return edges * nanos;
            }
        }

        /**
         * An even rate in pulses/s: edge i comes i x 1e9 / hertz after the first, rounded to the
         * nanosecond.
         */
        record Rate(double hertz) implements Spacing {
            public Rate {
                if (!(hertz >= 0.001) || hertz > 1e6) {
                    throw new IllegalArgumentException(
                            "a rate must be from 0.001 to 1000000 Hz, was " + hertz);
                }
            }

            @Override
            public long afterNanos(int edges) {
                return Math.round(edges * 1e9 / hertz);
            }
        }
    }

    /**
     * What the bay's computer said of itself. The run does not see it.
     *
     * @param atNanos when
     * @param computer what was told then; not everything each time
     */
    record Computer(long atNanos, BayComputer computer) implements TraceLine {}

    /** A run came into the state called so. */
    record State(long atNanos, String key) implements TraceLine {}

    /** A run commanded this. */
    record Command(long atNanos, BayCommand command) implements TraceLine {}

    /**
     * The last line.
     *
     * @param atNanos when the run ended
     * @param end its outcome's name
     * @param reason its outcome's reason, as a sentence
     * @param lines how many lines come before this one
     * @param sha256 of all bytes before this line, 64 lower-case hexadecimal digits
     */
    record Closing(long atNanos, String end, String reason, long lines, String sha256)
            implements TraceLine {}
}
