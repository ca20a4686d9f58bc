package catchbay.hardware.gpiochip;

import catchbay.hardware.clock.RealClock;
import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.PortProvider;
import catchbay.port.PortSettings;
import catchbay.run.RunSetup;
import catchbay.signal.PulseLine;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import java.util.Set;

/** Opens pulse lines of a GPIO chip: {@code pulses = "gpiochip"}. Settings: docs/settings.md. */
public final class GpiochipPulses implements PortProvider {

    /** The most edges a second that a line may be said to bring: ten times a fast meter's. */
    private static final int HERTZ_MAX = 20_000;

    /** Common practice, no source: above what meters of trucks and bays send at full flow. */
    private static final int HERTZ_OTHERWISE = 2000;

    /** How one line is wired. */
    private record Wire(int line, int companion, Bias bias, int hertzMax) {}

    @Override
    public PortKind kind() {
        return PortKind.PULSES;
    }

    @Override
    public String name() {
        return "gpiochip";
    }

    @Override
    public boolean simulated() {
        return false;
    }

    @Override
    public Object open(PortOpening opening) throws PortException {
        PortSettings settings = opening.settings();
        String label = settings.text("chip");
        Map<PulseLine, Wire> wires = wires(settings, opening.setup());
        RealClock.behind(opening, "GPIO chip " + label, kind());
        Chip chip = Chip.find(label);
        if (chip.simulated()) {
            opening.markSimulated();
        }
        List<PulseTap> taps = new ArrayList<>();
        List<LineRequest> requests = new ArrayList<>();
        try {
            for (Map.Entry<PulseLine, Wire> entry : wires.entrySet()) {
                Wire wire = entry.getValue();
                LineRequest request =
                        chip.edges(
                                "catchbay " + entry.getKey().key(),
                                wire.line,
                                wire.companion,
                                wire.bias);
                requests.add(request);
                taps.add(new PulseTap(entry.getKey(), request, wire.hertzMax));
            }
        } catch (PortException refusal) {
            requests.forEach(LineRequest::close);
            throw refusal;
        }
        taps.forEach(PulseTap::start);
        return new PulseTaps(taps);
    }

    private static Map<PulseLine, Wire> wires(PortSettings settings, RunSetup setup) {
        Map<PulseLine, Wire> wires = new EnumMap<>(PulseLine.class);
        LineNumbers numbers = new LineNumbers(settings);
        for (PulseLine line : PulseLine.values()) {
            String key = line.key().replace('-', '_');
            OptionalInt offset = numbers.at(key + "_line");
            if (offset.isEmpty()) {
                continue;
            }
            OptionalInt companion = numbers.at(key + "_companion");
            if (companion.isEmpty()) {
                throw settings.refused(
                        key + "_companion",
                        "name a line of the chip that is used for nothing else; the kernel shows"
                                + " more lost edges when it is held as well");
            }
            int hertzMax =
                    (int)
                            settings.whole(
                                    key + "_rate_max_hertz",
                                    1,
                                    HERTZ_MAX,
                                    rateMax(settings, line, setup));
            wires.put(
                    line,
                    new Wire(
                            offset.getAsInt(),
                            companion.getAsInt(),
                            bias(settings, key + "_bias"),
                            hertzMax));
        }
        refuseOneChannel(settings, setup, wires.keySet());
        if (wires.isEmpty()) {
            throw settings.refused(
                    "reference_line",
                    "no pulse line is named; give reference_line, truck_line or another with its"
                            + " companion, or set provider = \"none\"");
        }
        return wires;
    }

    /** Otherwise the second channel's silence would be found out only in the catch. */
    private static void refuseOneChannel(
            PortSettings settings, RunSetup setup, Set<PulseLine> wired) {
        boolean two = setup.reference().filter(RunSetup.Reference::twoChannels).isPresent();
        if (two
                && wired.contains(PulseLine.REFERENCE)
                && !wired.contains(PulseLine.REFERENCE_SECOND)) {
            throw settings.refused(
                    "reference_second_line",
                    "the reference is said to have 2 channels; name the line of the second one, or"
                            + " set its channels = 1");
        }
    }

    private static Bias bias(PortSettings settings, String key) {
        try {
            return Bias.ofKey(settings.optionalText(key).orElse("as-is"));
        } catch (IllegalArgumentException refusal) {
            throw settings.refused(key, refusal.getMessage());
        }
    }

    /** What the line reaches unless its own setting says more: the reference states its rate. */
    private static long rateMax(PortSettings settings, PulseLine line, RunSetup setup) {
        boolean reference = line == PulseLine.REFERENCE || line == PulseLine.REFERENCE_SECOND;
        if (!reference || setup.reference().isEmpty()) {
            return HERTZ_OTHERWISE;
        }
        double stated = setup.reference().get().pulsesPerSecondMax();
        if (stated > HERTZ_MAX) {
            throw settings.refused(
                    line.key().replace('-', '_') + "_line",
                    "the reference is said to reach "
                            + stated
                            + " pulses/s, and this door is good for "
                            + HERTZ_MAX
                            + "; state a lower rate_max_hertz or let its converter divide");
        }
        return (long) Math.ceil(stated);
    }
}
