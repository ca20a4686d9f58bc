package catchbay.run;

import catchbay.quantity.Mass;
import catchbay.quantity.Volume;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PressureReading;
import catchbay.signal.PulseLine;
import catchbay.signal.ScaleFrame;
import catchbay.signal.TemperaturePlace;
import catchbay.signal.TemperatureReading;

/** Everything that a run can learn. Stamps are nanoseconds of the monotonic clock. */
public sealed interface RunInput {

    /**
     * The latest stamp of an input, ns: 146 years. What a run adds to a stamp stays within 64 bits.
     */
    long AT_NANOS_MAX = Long.MAX_VALUE / 2;

    /**
     * When it happened, monotonic clock, ns, from 0 to {@link #AT_NANOS_MAX}; of a batch of edges,
     * its first.
     */
    long atNanos();

    private static void stamped(long atNanos) {
        if (atNanos < 0 || atNanos > AT_NANOS_MAX) {
            throw new IllegalArgumentException(
                    "the stamp of an input must be from 0 to "
                            + AT_NANOS_MAX
                            + " ns, was "
                            + atNanos);
        }
    }

    /** A turn of the loop: the only way in which a step learns what time it is. */
    record Turn(long atNanos) implements RunInput {
        public Turn {
            stamped(atNanos);
        }
    }

    /** Edges of one line. */
    record Edges(PulseLine line, EdgeBatch batch) implements RunInput {
        public Edges {
            stamped(batch.lastNanos());
        }

        @Override
        public long atNanos() {
            return batch.firstNanos();
        }
    }

    /** A contact changed, or was read for the first time. */
    record Contact(long atNanos, BayContact contact, boolean active) implements RunInput {
        public Contact {
            stamped(atNanos);
        }
    }

    /** A decoded frame from the scale, stamped when its last byte came. */
    record Scale(long atNanos, ScaleFrame frame) implements RunInput {
        public Scale {
            stamped(atNanos);
        }
    }

    /** A running total from the controller's line, stamped when its last byte came. */
    record ControllerTotal(long atNanos, Volume total) implements RunInput {
        public ControllerTotal {
            stamped(atNanos);
        }
    }

    /** A thermometer was read; stamped when its reading was there. */
    record Thermometer(long atNanos, TemperaturePlace place, TemperatureReading reading)
            implements RunInput {
        public Thermometer {
            stamped(atNanos);
        }
    }

    /** The gauge at the bay's coupler was read; stamped when its reading was there. */
    record CouplerPressure(long atNanos, PressureReading reading) implements RunInput {
        public CouplerPressure {
            stamped(atNanos);
        }
    }

    /**
     * From here on the bay sends pulses to the truck's controller at this rate, as near as it knows
     * it.
     *
     * @param line {@link PulseLine#SPEED} or {@link PulseLine#FEEDER}
     * @param hertz pulses/s, finite and >= 0
     * @param rising whether a higher rate is to follow
     */
    record PulsesSent(long atNanos, PulseLine line, double hertz, boolean rising)
            implements RunInput {
        public PulsesSent {
            stamped(atNanos);
            if (line != PulseLine.SPEED && line != PulseLine.FEEDER) {
                throw new IllegalArgumentException(
                        "the bay sends speed and feeder pulses, and none of the line "
                                + line.key());
            }
            if (!Double.isFinite(hertz) || hertz < 0) {
                throw new IllegalArgumentException(
                        "pulses sent must be finite and >= 0 Hz, were " + hertz);
            }
        }
    }

    /** So much of the disk that takes the trace is free. */
    record DiskFree(long atNanos, long bytes) implements RunInput {
        public DiskFree {
            stamped(atNanos);
            if (bytes < 0) {
                throw new IllegalArgumentException(
                        "free space of a disk must be >= 0 bytes, was " + bytes);
            }
        }
    }

    /** The operator confirmed the checklist. */
    record ChecklistConfirmed(long atNanos, String by) implements RunInput {
        public ChecklistConfirmed {
            stamped(atNanos);
            if (by.isBlank()) {
                throw new IllegalArgumentException(
                        "the checklist must be confirmed by a named person");
            }
        }
    }

    /** The operator confirmed that speed may be sent to the truck. */
    record SpeedConfirmed(long atNanos, String by) implements RunInput {
        public SpeedConfirmed {
            stamped(atNanos);
            if (by.isBlank()) {
                throw new IllegalArgumentException(
                        "that speed may be sent must be confirmed by a named person");
            }
        }
    }

    /**
     * The operator did what {@link Question#START_FLOW}, {@link Question#STOP_FLOW} or {@link
     * Question#LOAD_SCALE} asked for, saw what {@link Question#SEEN_MOVING} asks about, or is there
     * when {@link Question#PRESENCE} asks.
     */
    record Done(long atNanos, Question question) implements RunInput {
        public Done {
            stamped(atNanos);
        }
    }

    /** The operator typed a total for the question under way. */
    record TotalTyped(long atNanos, Volume total) implements RunInput {
        public TotalTyped {
            stamped(atNanos);
        }
    }

    /** The operator typed the salt that the controller reports. */
    record SaltTyped(long atNanos, Mass salt) implements RunInput {
        public SaltTyped {
            stamped(atNanos);
        }
    }

    /**
     * What a line brought and nobody could read, since the last such input. Never part of a result;
     * kept so that a trace tells how good its lines were, and why one is silent.
     *
     * @param port whose line: scale, controller
     * @param frames frames begun and given up, whole and not understood, or asked for in vain
     * @param bytes bytes that belong to no frame
     * @param reason what was wrong with the last of it; not blank
     */
    record Unread(long atNanos, String port, long frames, long bytes, String reason)
            implements RunInput {
        public Unread {
            stamped(atNanos);
            if (frames < 0 || bytes < 0 || frames + bytes == 0 || reason.isBlank()) {
                throw new IllegalArgumentException(
                        "what could not be read must be counted and have a reason, was "
                                + frames
                                + " frames, "
                                + bytes
                                + " bytes, '"
                                + reason
                                + "'");
            }
        }
    }

    /** Somebody stopped the run. */
    record StopPressed(long atNanos, String by) implements RunInput {
        public StopPressed {
            stamped(atNanos);
        }
    }

    /** A port failed; the sentence says what and what to do. */
    record PortFailed(long atNanos, String port, String sentence) implements RunInput {
        public PortFailed {
            stamped(atNanos);
        }
    }

    /** Every trace line up to this stamp is on the medium. */
    record TraceDurable(long atNanos, long upToNanos) implements RunInput {
        public TraceDurable {
            stamped(atNanos);
        }
    }

    /** The trace could not be written; the sentence says why. */
    record TraceFailed(long atNanos, String sentence) implements RunInput {
        public TraceFailed {
            stamped(atNanos);
        }
    }
}
