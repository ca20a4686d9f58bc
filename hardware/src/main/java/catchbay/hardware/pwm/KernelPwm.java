package catchbay.hardware.pwm;

import catchbay.hardware.clock.RealClock;
import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.PortProvider;
import catchbay.port.PortSettings;
import catchbay.run.RunSetup;
import catchbay.signal.PulseLine;

import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;

/**
 * Opens speed and feeder pulses of the kernel's timers: {@code provider = "pwm"}. A folder outside
 * of what the kernel shows stands in for a timer, and its run is marked as simulated. Settings:
 * docs/settings.md.
 */
public final class KernelPwm implements PortProvider {

    private static final Path KERNEL = Path.of("/sys");
    private static final String FOLDER = "/sys/class/pwm";
    private static final int CHANNEL_MAX = 63;
    private static final long ABSENT = -1;

    @Override
    public PortKind kind() {
        return PortKind.PULSE_OUTPUT;
    }

    @Override
    public String name() {
        return "pwm";
    }

    @Override
    public boolean simulated() {
        return false;
    }

    @Override
    public Object open(PortOpening opening) throws PortException {
        PortSettings settings = opening.settings();
        Path folder = Path.of(settings.optionalText("folder").orElse(FOLDER));
        String label = settings.text("chip");
        long speed = settings.whole("speed_channel", 0, CHANNEL_MAX, ABSENT);
        long feeder = settings.whole("feeder_channel", 0, CHANNEL_MAX, ABSENT);
        PulseDivider divider =
                new PulseDivider(
                        settings.number("clock_hertz", 1e3, 1e9, 1e9),
                        settings.number("error_max_percent", 1e-4, 5, 0.05));
        long rampNanos = Math.round(settings.number("ramp_seconds", 0, 60, 3) * 1e9);
        if (speed == ABSENT && feeder == ABSENT) {
            throw settings.refused("speed_channel", "no channel is named; name it or the feeder's");
        }
        if (speed == feeder) {
            throw settings.refused("feeder_channel", "is the speed's already; name another one");
        }
        refuseUnreachable(settings, opening.setup(), speed, divider);
        refuseUnreachableFeeder(settings, opening.setup(), feeder, divider);
        RealClock.behind(opening, "PWM chip " + label, kind());
        if (!folder.toAbsolutePath().startsWith(KERNEL)) {
            opening.markSimulated();
        }
        Path chip = chip(folder, label);
        Map<PulseLine, PulseTrain> trains = new EnumMap<>(PulseLine.class);
        for (var wired : Map.of(PulseLine.SPEED, speed, PulseLine.FEEDER, feeder).entrySet()) {
            if (wired.getValue() != ABSENT) {
                PwmChannel channel = channel(chip, wired.getValue());
                tellOfOthers(opening, wired.getKey(), channel);
                trains.put(
                        wired.getKey(),
                        new PulseTrain(wired.getKey(), channel, divider, rampNanos));
            }
        }
        KernelPulses pulses = new KernelPulses(opening.time(), trains);
        pulses.start();
        return pulses;
    }

    /** Before anything is sent, so that nobody is asked to clear the truck for nothing. */
    private static void refuseUnreachable(
            PortSettings settings, RunSetup setup, long speedChannel, PulseDivider divider)
            throws PortException {
        if (setup.plan().flowBy() != RunSetup.FlowBy.GROUND_SPEED) {
            return;
        }
        if (speedChannel == ABSENT) {
            throw settings.refused(
                    "speed_channel",
                    "catch.flow_by is ground-speed; name the channel that sends the speed");
        }
        divider.period(setup.asked().speedHertz().orElseThrow());
    }

    private static void refuseUnreachableFeeder(
            PortSettings settings, RunSetup setup, long feederChannel, PulseDivider divider)
            throws PortException {
        Optional<Double> hertz = setup.asked().feederHertz();
        if (hertz.isPresent() && feederChannel == ABSENT) {
            throw settings.refused(
                    "feeder_channel",
                    "asked.send_feeder is true; name the channel that sends the feeder's pulses");
        }
        if (hertz.isPresent()) {
            divider.period(hertz.get());
        }
    }

    /** By its device's name, since the number of a chip changes as drivers start. */
    private static Path chip(Path folder, String label) throws PortException {
        TreeMap<String, Path> chips = new TreeMap<>();
        if (Files.isDirectory(folder)) {
            try (DirectoryStream<Path> paths = Files.newDirectoryStream(folder, "pwmchip*")) {
                for (Path path : paths) {
                    Path device = path.resolve("device").toRealPath();
                    String name = device.getFileName().toString();
                    Path other = chips.put(name, path);
                    if (other != null && name.equals(label)) {
                        throw new PortException(
                                PortException.Kind.MISSING,
                                "Two PWM chips have the device name '"
                                        + label
                                        + "' ("
                                        + other.getFileName()
                                        + " and "
                                        + path.getFileName()
                                        + "), so it cannot be told which is meant; switch the"
                                        + " driver of the other one off.");
                    }
                }
            } catch (IOException failure) {
                throw new PortException(
                        PortException.Kind.GONE,
                        "The PWM chips under " + folder + " changed while read; try again.",
                        failure);
            }
        }
        if (!chips.containsKey(label)) {
            throw new PortException(
                    PortException.Kind.MISSING,
                    "There is no PWM chip of the device '"
                            + label
                            + "'; "
                            + (chips.isEmpty()
                                    ? "there is none in " + folder + ", so switch its driver on."
                                    : "name one of those that exist: "
                                            + String.join(", ", chips.keySet())
                                            + "."));
        }
        return chips.get(label);
    }

    /** It is ended at once, whoever began it. */
    private static void tellOfOthers(PortOpening opening, PulseLine line, PwmChannel channel)
            throws PortException {
        try {
            if (channel.isEnabled()) {
                opening.tell(
                        "The channel of the "
                                + line.key()
                                + " pulses ("
                                + channel
                                + ") was switched on already; it is set to 0 now. A run that was"
                                + " killed leaves it so. Where none was, find the program that"
                                + " drives it: two must not.");
            }
        } catch (IOException failure) {
            throw new PortException(
                    PortException.Kind.GONE,
                    "It cannot be read whether "
                            + channel
                            + " is switched on ("
                            + failure.getMessage()
                            + "); look whether it is there and who may read it.",
                    failure);
        }
    }

    private static PwmChannel channel(Path chip, long number) throws PortException {
        Path folder = chip.resolve("pwm" + number);
        try {
            if (!Files.exists(folder)) {
                Files.writeString(
                        chip.resolve("export"), Long.toString(number), StandardOpenOption.WRITE);
            }
        } catch (IOException refusal) {
            throw new PortException(
                    PortException.Kind.FORBIDDEN,
                    "Channel "
                            + number
                            + " of the PWM chip "
                            + chip
                            + " cannot be had ("
                            + refusal.getMessage()
                            + "); look whether the chip has it, who holds it, and whether this"
                            + " user may write there.",
                    refusal);
        }
        if (!Files.isWritable(folder.resolve("enable"))) {
            throw new PortException(
                    PortException.Kind.FORBIDDEN,
                    "This user may not write to "
                            + folder.resolve("enable")
                            + ", or it is not there; let the user's group write to it, and start"
                            + " again.");
        }
        return new PwmChannel(folder);
    }
}
