package catchbay.hardware.serial;

import catchbay.hardware.clock.SystemTime;
import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.PortProvider;
import catchbay.port.PortSettings;
import catchbay.port.Timekeeper;
import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Speed;
import catchbay.run.RunInput;
import catchbay.run.RunSetup;
import catchbay.signal.ScaleFrame;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.ServiceLoader;
import java.util.function.BooleanSupplier;
import java.util.function.Predicate;
import java.util.function.Supplier;

/** Opens the shipped ports as the program does, and waits for what they deliver. */
final class SerialBench {

    private static final long PATIENCE_NANOS = 20_000_000_000L;

    static final Predicate<RunInput> UNDERSTOOD = input -> !(input instanceof RunInput.Unread);

    private SerialBench() {}

    static BenchSettings scale(Path port, String protocol) {
        return new BenchSettings(Map.of("port", port.toString(), "protocol", protocol));
    }

    static BenchSettings controller(Path port, String pattern) {
        return new BenchSettings(Map.of("port", port.toString(), "pattern", pattern));
    }

    static SerialSource open(PortKind kind, PortSettings settings) throws PortException {
        return (SerialSource) provider(kind).open(opening(settings, time()));
    }

    static PortProvider provider(PortKind kind) {
        return ServiceLoader.load(PortProvider.class).stream()
                .map(ServiceLoader.Provider::get)
                .filter(found -> found.kind() == kind && !found.simulated())
                .findFirst()
                .orElseThrow();
    }

    static Timekeeper time() throws PortException {
        return (Timekeeper) new SystemTime().open(null);
    }

    /** Whether a port on this device marks the run as simulated. */
    static boolean marks(PortKind kind, PortSettings settings) throws PortException {
        boolean[] marked = {false};
        ((SerialSource) provider(kind).open(opening(settings, time(), marked))).close();
        return marked[0];
    }

    static PortOpening opening(PortSettings settings, Timekeeper time) {
        return opening(settings, time, new boolean[1]);
    }

    private static PortOpening opening(PortSettings settings, Timekeeper time, boolean[] marked) {
        RunSetup.Scale scale =
                new RunSetup.Scale(
                        null,
                        MassUnit.KILOGRAM,
                        Mass.of(0.01, MassUnit.KILOGRAM),
                        Mass.of(5000, MassUnit.KILOGRAM),
                        Mass.of(0.05, MassUnit.KILOGRAM),
                        1_000_000_000L,
                        3_000_000_000L);
        RunSetup setup =
                new RunSetup(
                        "bench",
                        null,
                        Optional.empty(),
                        Optional.of(scale),
                        Optional.empty(),
                        null,
                        null,
                        null,
                        null,
                        null,
                        null,
                        null,
                        null,
                        null);
        return new PortOpening() {
            @Override
            public RunSetup setup() {
                return setup;
            }

            @Override
            public Speed usualSpeed() {
                return setup().asked().speed();
            }

            @Override
            public PortSettings settings() {
                return settings;
            }

            @Override
            public PortSettings settings(PortKind other) {
                return settings;
            }

            @Override
            public Timekeeper time() {
                return time;
            }

            @Override
            public void markSimulated() {
                marked[0] = true;
            }

            @Override
            public void tell(String found) {
                throw new AssertionError("a serial line has nobody to end: " + found);
            }

            @Override
            public <T> T shared(Class<T> kind, Supplier<T> maker) {
                return maker.get();
            }
        };
    }

    /** Drains until so many inputs have come that please; answers the first of them. */
    static List<RunInput> drain(SerialSource source, int count, Predicate<RunInput> pleasing)
            throws PortException {
        List<RunInput> pleased = new ArrayList<>();
        long deadline = System.nanoTime() + PATIENCE_NANOS;
        while (pleased.size() < count) {
            source.drain(input -> {
                if (pleasing.test(input)) {
                    pleased.add(input);
                }
            });
            rest(
                    deadline,
                    () ->
                            pleased.size()
                                    + " of "
                                    + count
                                    + " inputs after 20 s; "
                                    + source.counts());
        }
        return pleased.subList(0, count);
    }

    /** The amounts of the next weights. */
    static List<Double> weights(SerialSource source, int count) throws PortException {
        return drain(source, count, input -> weight(input) != null).stream()
                .map(input -> weight(input).amount())
                .toList();
    }

    static ScaleFrame.Weight weight(RunInput input) {
        return input instanceof RunInput.Scale(long at, ScaleFrame.Weight weight) ? weight : null;
    }

    static void await(BooleanSupplier condition, Supplier<String> complaint) {
        long deadline = System.nanoTime() + PATIENCE_NANOS;
        while (!condition.getAsBoolean()) {
            rest(deadline, complaint);
        }
    }

    private static void rest(long deadline, Supplier<String> complaint) {
        if (System.nanoTime() > deadline) {
            throw new AssertionError(complaint.get());
        }
        try {
            Thread.sleep(2);
        } catch (InterruptedException interrupted) {
            throw new AssertionError(interrupted);
        }
    }
}
