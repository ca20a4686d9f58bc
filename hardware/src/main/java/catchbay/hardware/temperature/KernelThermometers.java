package catchbay.hardware.temperature;

import catchbay.hardware.clock.MonotonicClock;
import catchbay.hardware.clock.RealClock;
import catchbay.hardware.rounds.RoundReader;
import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.PortProvider;
import catchbay.port.PortSettings;
import catchbay.run.RunInput;
import catchbay.signal.TemperaturePlace;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Supplier;
import java.util.stream.Stream;

/**
 * Opens thermometers that the kernel reads: {@code provider = "w1"}. A sensor is named by its
 * 1-wire number, as in {@code 28-0123456789ab}, which it keeps for life, or by the file that the
 * kernel hands its reading out in. One that lies outside of what the kernel shows stands in for a
 * sensor, and its run is marked as simulated. Settings: docs/operating/temperature.md.
 */
public final class KernelThermometers implements PortProvider {

    /** Where the kernel shows the sensors on its 1-wire lines (Linux documentation, w1). */
    private static final String FOLDER = "/sys/bus/w1/devices";

    private static final Path KERNEL = Path.of("/sys");

    /** The file of a sensor's text in that folder (Linux documentation, w1_therm). */
    private static final String FILE = "w1_slave";

    @Override
    public PortKind kind() {
        return PortKind.TEMPERATURE;
    }

    @Override
    public String name() {
        return "w1";
    }

    @Override
    public boolean simulated() {
        return false;
    }

    @Override
    public Object open(PortOpening opening) throws PortException {
        PortSettings settings = opening.settings();
        Path folder = Path.of(settings.optionalText("folder").orElse(FOLDER));
        Set<TemperaturePlace> places = opening.setup().doubts().temperatures().sensors().places();
        if (places.isEmpty()) {
            throw settings.refused(
                    "provider",
                    "temperature.sensors names no thermometer; name the places there, or take"
                            + " [port.temperature] out");
        }
        Map<TemperaturePlace, Path> files = new EnumMap<>(TemperaturePlace.class);
        for (TemperaturePlace place : places) {
            Path file = file(settings, key(place), folder);
            for (Map.Entry<TemperaturePlace, Path> other : files.entrySet()) {
                if (same(other.getValue(), file)) {
                    throw settings.refused(
                            key(place),
                            "it is the thermometer of "
                                    + key(other.getKey())
                                    + ", too; each place needs one of its own");
                }
            }
            files.put(place, file);
        }
        // Only the kernel's own file is a sensor's.
        if (!files.values().stream().allMatch(file -> file.startsWith(KERNEL))) {
            opening.markSimulated();
        }
        Path first = files.values().iterator().next();
        MonotonicClock clock = RealClock.behind(opening, "thermometer " + first, kind());
        List<Supplier<RunInput>> sensors = new ArrayList<>();
        files.forEach((place, file) -> sensors.add(new Thermometer(place, file, clock)::read));
        return RoundReader.open("thermometers", sensors, clock);
    }

    private static boolean same(Path one, Path other) {
        try {
            return Files.isSameFile(one, other);
        } catch (IOException unseen) {
            return one.equals(other);
        }
    }

    private static String key(TemperaturePlace place) {
        return place.name().toLowerCase(Locale.ROOT);
    }

    private static Path file(PortSettings settings, String key, Path folder) throws PortException {
        String sensor = settings.text(key);
        Path file;
        try {
            file = sensor.contains("/") ? Path.of(sensor) : folder.resolve(sensor).resolve(FILE);
        } catch (InvalidPathException unfit) {
            throw settings.refused(
                    key, "it must be a sensor's number or the file that holds its reading");
        }
        if (!Files.exists(file)) {
            throw new PortException(
                    PortException.Kind.MISSING,
                    "The thermometer "
                            + sensor
                            + " of port.temperature."
                            + key
                            + " is not there ("
                            + file
                            + "); check its wire, that the kernel's 1-wire line is switched on, and"
                            + " its number"
                            + known(folder)
                            + ".");
        }
        if (!Files.isReadable(file)) {
            throw new PortException(
                    PortException.Kind.FORBIDDEN,
                    "The thermometer "
                            + sensor
                            + " of port.temperature."
                            + key
                            + " may not be read by this user ("
                            + file
                            + "); give it read permission.");
        }
        return file;
    }

    /** The sensors that are there; those of a line's master have other names. */
    private static String known(Path folder) {
        Set<String> names = new TreeSet<>();
        try (Stream<Path> entries = Files.list(folder)) {
            entries.filter(entry -> Files.exists(entry.resolve(FILE)))
                    .forEach(entry -> names.add(entry.getFileName().toString()));
        } catch (IOException none) {
            return "; there is no folder " + folder;
        }
        return names.isEmpty()
                ? "; there are none in " + folder
                : "; there are " + String.join(", ", names);
    }
}
