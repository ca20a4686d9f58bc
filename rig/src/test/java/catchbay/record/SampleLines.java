package catchbay.record;

import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Pressure;
import catchbay.quantity.Temperature;
import catchbay.quantity.Volume;
import catchbay.run.BayCommand;
import catchbay.run.BayComputer;
import catchbay.run.BayContact;
import catchbay.run.Question;
import catchbay.run.RunInput;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PressureReading;
import catchbay.signal.PulseLine;
import catchbay.signal.ScaleFrame;
import catchbay.signal.TemperaturePlace;
import catchbay.signal.TemperatureReading;

import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.OptionalLong;
import java.util.Set;
import java.util.random.RandomGenerator;

/** Trace lines of every kind, drawn from a seed. */
final class SampleLines {

    private final RandomGenerator random;

    SampleLines(RandomGenerator random) {
        this.random = random;
    }

    /** A whole trace without its closing line. */
    List<TraceLine> trace(int lines) {
        List<TraceLine> trace = new ArrayList<>();
        trace.add(header());
        for (int i = 1; i < lines; i++) {
            trace.add(line());
        }
        return trace;
    }

    TraceLine.Header header() {
        return TraceLine.Header.recorded(
                1 + random.nextInt(5),
                "run_" + random.nextInt(1000) + "-X",
                random.nextBoolean() ? TraceLine.Origin.BAY : TraceLine.Origin.SIMULATED,
                "boot " + random.nextInt(),
                Instant.ofEpochSecond(
                        random.nextLong(4_000_000_000L), random.nextInt(1_000_000_000)),
                "0.1.0",
                new SampleSetups(random).draw());
    }

    TraceLine line() {
        return switch (random.nextInt(5)) {
            case 2 -> new TraceLine.Computer(stamp(), computer());
            case 0 -> new TraceLine.State(stamp(), "state-" + random.nextInt(9));
            case 1 -> new TraceLine.Command(stamp(), command());
            default -> new TraceLine.Input(input());
        };
    }

    private BayComputer computer() {
        Set<BayComputer.ClockDoubt> doubts = EnumSet.noneOf(BayComputer.ClockDoubt.class);
        for (BayComputer.ClockDoubt doubt : BayComputer.ClockDoubt.values()) {
            if (random.nextBoolean()) {
                doubts.add(doubt);
            }
        }
        return new BayComputer(
                random.nextBoolean()
                        ? OptionalInt.of(random.nextInt(BayComputer.POWER_FLAGS_MAX + 1))
                        : OptionalInt.empty(),
                random.nextBoolean() ? Optional.of(doubts) : Optional.empty(),
                random.nextBoolean()
                        ? OptionalLong.of(random.nextLong(Long.MAX_VALUE))
                        : OptionalLong.empty());
    }

    RunInput input() {
        return switch (random.nextInt(19)) {
            case 0 -> new RunInput.Turn(stamp());
            case 1 -> new RunInput.Edges(one(PulseLine.values()), batch());
            case 2 -> new RunInput.Contact(stamp(), one(BayContact.values()), random.nextBoolean());
            case 3 -> new RunInput.Scale(stamp(), frame());
            case 4 -> new RunInput.ControllerTotal(stamp(), new Volume(Math.abs(number())));
            case 5 -> new RunInput.ChecklistConfirmed(stamp(), "n" + words());
            case 6 -> new RunInput.Done(stamp(), one(Question.values()));
            case 7 -> new RunInput.TotalTyped(stamp(), new Volume(Math.abs(number())));
            case 8 -> new RunInput.SaltTyped(stamp(), new Mass(number()));
            case 9 -> new RunInput.StopPressed(stamp(), words());
            case 10 -> new RunInput.PortFailed(stamp(), words(), words());
            case 11 -> new RunInput.TraceDurable(stamp(), stamp());
            case 12 ->
                    new RunInput.Unread(
                            stamp(),
                            words(),
                            random.nextInt(1_000_000),
                            1 + random.nextInt(1_000_000),
                            "n" + words());
            case 13 -> new RunInput.Thermometer(stamp(), one(TemperaturePlace.values()), reading());
            case 14 -> new RunInput.CouplerPressure(stamp(), gauge());
            case 15 ->
                    new RunInput.PulsesSent(
                            stamp(),
                            random.nextBoolean() ? PulseLine.SPEED : PulseLine.FEEDER,
                            Math.abs(number()),
                            random.nextBoolean());
            case 16 -> new RunInput.SpeedConfirmed(stamp(), "n" + words());
            case 17 -> new RunInput.DiskFree(stamp(), random.nextLong(Long.MAX_VALUE));
            default -> new RunInput.TraceFailed(stamp(), words());
        };
    }

    /** At times even, at times wild, at times out of order. */
    private EdgeBatch batch() {
        int wild = random.nextInt(3);
        long[] stamps = new long[1 + random.nextInt(wild == 0 ? 3 : 40)];
        long stamp = stamp();
        for (int i = 0; i < stamps.length; i++) {
            stamps[i] = stamp;
            stamp =
                    switch (wild) {
                        case 0 ->
                                Math.min(
                                        stamp + random.nextLong(3_000_000),
                                        TraceLine.STAMP_NANOS_MAX);
                        case 1 -> stamp();
                        default ->
                                Math.clamp(
                                        stamp + random.nextLong(-100, 2_000_000),
                                        0,
                                        TraceLine.STAMP_NANOS_MAX);
                    };
        }
        return EdgeBatch.of(
                random.nextBoolean()
                        ? random.nextInt(100_000)
                        : random.nextLong(TraceLine.SEQUENCE_MAX),
                stamps);
    }

    private ScaleFrame frame() {
        return random.nextInt(4) == 0
                ? new ScaleFrame.NoWeight(words())
                : new ScaleFrame.Weight(
                        number(),
                        one(MassUnit.values()),
                        random.nextBoolean(),
                        random.nextBoolean());
    }

    private TemperatureReading reading() {
        return random.nextInt(4) == 0
                ? new TemperatureReading.Missing(words())
                : new TemperatureReading.Shown(new Temperature(random.nextDouble(-55, 125)));
    }

    private PressureReading gauge() {
        return random.nextInt(4) == 0
                ? new PressureReading.Missing(words())
                : new PressureReading.Shown(new Pressure(random.nextDouble(-100, 2000)));
    }

    private BayCommand command() {
        return switch (random.nextInt(7)) {
            case 0 -> new BayCommand.Divert(one(BayCommand.Way.values()));
            case 1 -> new BayCommand.Drain(random.nextBoolean());
            case 2 -> new BayCommand.Supply(random.nextBoolean());
            case 3 -> new BayCommand.GroundSpeed(Math.abs(number()));
            case 4 -> new BayCommand.Feeder(Math.abs(number()));
            case 5 -> new BayCommand.Ask(one(Question.values()));
            default -> new BayCommand.SecureTrace();
        };
    }

    private long stamp() {
        return switch (random.nextInt(5)) {
            case 0 -> random.nextInt(3);
            case 1 -> random.nextLong(TraceLine.STAMP_NANOS_MAX + 1);
            case 2 -> TraceLine.STAMP_NANOS_MAX;
            default -> random.nextLong(1_000_000_000_000L);
        };
    }

    /** Any finite number, also the smallest, the largest and both zeros. */
    private double number() {
        return switch (random.nextInt(6)) {
            case 0 -> random.nextInt(2000) / 10.0;
            case 1 -> -0.0;
            case 2 -> Double.MIN_VALUE;
            case 3 -> -Double.MAX_VALUE;
            default -> {
                double any = Double.longBitsToDouble(random.nextLong());
                yield Double.isFinite(any) ? any : 1;
            }
        };
    }

    /** Any text: control characters, quotes, all planes of Unicode, halves of surrogate pairs. */
    private String words() {
        StringBuilder words = new StringBuilder();
        for (int i = random.nextInt(20); i > 0; i--) {
            words.append(
                    switch (random.nextInt(5)) {
                        case 0 -> String.valueOf((char) random.nextInt(0x80));
                        case 1 -> String.valueOf((char) random.nextInt(0x10000));
                        case 2 -> Character.toString(0x10000 + random.nextInt(0x100000));
                        default -> String.valueOf((char) ('a' + random.nextInt(26)));
                    });
        }
        return words.toString();
    }

    private <T> T one(T[] of) {
        return of[random.nextInt(of.length)];
    }
}
