package catchbay.hardware.pressure;

import catchbay.hardware.clock.MonotonicClock;
import catchbay.hardware.clock.RealClock;
import catchbay.hardware.rounds.RoundReader;
import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.PortProvider;
import catchbay.port.PortSettings;
import catchbay.quantity.Pressure;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.DoubleFunction;
import java.util.stream.Stream;

/**
 * Opens the gauge at the coupler behind a converter that the kernel reads: {@code provider =
 * "iio"}. The converter is named by the label or the name that the kernel gives it, never by its
 * number, which changes with the order in which drivers start. One that lies outside of what the
 * kernel shows stands in for one, and its run is marked as simulated. Settings:
 * docs/operating/pressure.md.
 */
public final class KernelGauge implements PortProvider {

    /** Where the kernel shows its converters (ABI/testing/sysfs-bus-iio). */
    private static final String FOLDER = "/sys/bus/iio/devices";

    private static final Path KERNEL = Path.of("/sys");
    private static final String CHANNEL = "voltage[0-9]{1,3}(-voltage[0-9]{1,3})?";

    private static final double OHMS_MAX = 1000;
    private static final double DIVIDER_MAX = 100;
    private static final double PSI_MAX = 10_000;

    @Override
    public PortKind kind() {
        return PortKind.PRESSURE;
    }

    @Override
    public String name() {
        return "iio";
    }

    @Override
    public boolean simulated() {
        return false;
    }

    @Override
    public Object open(PortOpening opening) throws PortException {
        PortSettings settings = opening.settings();
        String device = settings.text("device");
        String channel = settings.optionalText("channel").orElse("voltage0");
        if (!channel.matches(CHANNEL)) {
            throw settings.refused(
                    "channel",
                    "the channel '"
                            + channel
                            + "' is not known; use voltage0 or another number, or"
                            + " voltage0-voltage1 between two pins");
        }
        GaugeSignal signal = signal(settings);
        Path folder = Path.of(settings.optionalText("folder").orElse(FOLDER));
        IioChannel found = new IioChannel(device(folder, device), channel);
        refuseUnreadable(found);
        if (!folder.startsWith(KERNEL)) {
            opening.markSimulated();
        }
        MonotonicClock clock = RealClock.behind(opening, "gauge behind " + device, kind());
        return RoundReader.open("gauge", List.of(new Gauge(found, signal, clock)::read), clock);
    }

    private static GaugeSignal signal(PortSettings settings) {
        Pressure from = end(settings, "range_from").orElse(new Pressure(0));
        Pressure to =
                end(settings, "range_to")
                        .orElseThrow(() ->
                                settings.refused(
                                        "range_to_psi",
                                        "say which pressure the upper end of the signal is, here"
                                                + " or as range_to_kpa or range_to_bar"));
        if (to.compareTo(from) <= 0) {
            throw settings.refused(
                    "range_to_psi", "the upper end of the range must be above the lower one");
        }
        String kind = settings.text("signal");
        return switch (kind) {
            case "4-20mA" ->
                    new GaugeSignal(
                            GaugeSignal.Kind.CURRENT,
                            needed(
                                    settings,
                                    "shunt_ohms",
                                    OHMS_MAX,
                                    "say over how many ohms the current makes its voltage"),
                            from,
                            to);
            case "0-10V" ->
                    new GaugeSignal(
                            GaugeSignal.Kind.VOLTAGE,
                            needed(
                                    settings,
                                    "divider_ratio",
                                    DIVIDER_MAX,
                                    "say how many times the voltage at the converter the gauge's"
                                            + " is"),
                            from,
                            to);
            default ->
                    throw settings.refused(
                            "signal",
                            "the signal '" + kind + "' is not known; use 4-20mA or 0-10V");
        };
    }

    private static double needed(PortSettings settings, String key, double most, String mend) {
        double value = settings.number(key, 1, most, Double.NaN);
        if (Double.isNaN(value)) {
            throw settings.refused(key, mend);
        }
        return value;
    }

    /** One end of the range, in whatever unit; in one only. */
    private static Optional<Pressure> end(PortSettings settings, String stem) {
        Map<String, DoubleFunction<Pressure>> units = new LinkedHashMap<>();
        units.put("_psi", Pressure::ofPsi);
        units.put("_kpa", Pressure::new);
        units.put("_bar", bar -> new Pressure(100 * bar));
        Optional<Pressure> end = Optional.empty();
        for (Map.Entry<String, DoubleFunction<Pressure>> unit : units.entrySet()) {
            double value = settings.number(stem + unit.getKey(), -PSI_MAX, PSI_MAX, Double.NaN);
            if (Double.isNaN(value)) {
                continue;
            }
            if (end.isPresent()) {
                throw settings.refused(
                        stem + unit.getKey(), "it is given in another unit too; keep one of them");
            }
            end = Optional.of(unit.getValue().apply(value));
        }
        return end;
    }

    private static Path device(Path folder, String wanted) throws PortException {
        List<Path> found = new ArrayList<>();
        Set<String> names = new TreeSet<>();
        for (Path device : devices(folder)) {
            Set<String> called = new TreeSet<>();
            for (String file : List.of("name", "label")) {
                text(device.resolve(file)).ifPresent(called::add);
            }
            names.addAll(called);
            if (called.contains(wanted)) {
                found.add(device);
            }
        }
        if (found.size() == 1) {
            return found.getFirst();
        }
        if (found.size() > 1) {
            throw new PortException(
                    PortException.Kind.UNFIT,
                    found.size()
                            + " converters are called '"
                            + wanted
                            + "', and which one is meant cannot be told; give them labels in the"
                            + " device tree, or take one of them away.");
        }
        throw new PortException(
                PortException.Kind.MISSING,
                "There is no converter called '"
                        + wanted
                        + "' in "
                        + folder
                        + "; "
                        + (names.isEmpty()
                                ? "there is none at all: load its driver."
                                : "name one of those that exist: "
                                        + String.join(", ", names)
                                        + "."));
    }

    private static List<Path> devices(Path folder) {
        try (Stream<Path> entries = Files.list(folder)) {
            return entries.filter(entry -> entry.getFileName().toString().startsWith("iio:device"))
                    .sorted()
                    .toList();
        } catch (IOException none) {
            return List.of();
        }
    }

    private static Optional<String> text(Path file) {
        try {
            return Optional.of(Files.readString(file).strip());
        } catch (IOException none) {
            return Optional.empty();
        }
    }

    private static void refuseUnreadable(IioChannel channel) throws PortException {
        if (!Files.exists(channel.raw())) {
            throw new PortException(
                    PortException.Kind.MISSING,
                    "The converter has no channel "
                            + channel.channel()
                            + " ("
                            + channel.raw()
                            + "); name one of its own under [port.pressure].");
        }
        if (!Files.isReadable(channel.raw())) {
            throw new PortException(
                    PortException.Kind.FORBIDDEN,
                    "The gauge at the coupler may not be read by this user ("
                            + channel.raw()
                            + "); give it read permission.");
        }
        try {
            channel.millivolts();
        } catch (IOException unfit) {
            throw new PortException(
                    PortException.Kind.UNFIT,
                    "The channel "
                            + channel.channel()
                            + " cannot be read as a voltage ("
                            + unfit.getMessage()
                            + (unfit instanceof NoSuchFileException ? " is not there" : "")
                            + "); check that it has a scale, and its wires to the computer.",
                    unfit);
        }
    }
}
