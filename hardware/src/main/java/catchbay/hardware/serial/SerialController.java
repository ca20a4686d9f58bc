package catchbay.hardware.serial;

import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.PortProvider;
import catchbay.port.PortSettings;
import catchbay.quantity.VolumeUnit;
import catchbay.run.RunInput;
import catchbay.signal.TotalPattern;

import java.util.Optional;

/**
 * Opens a truck controller's text line: {@code controller = "serial"}. Settings:
 * docs/operating/scale.md.
 */
public final class SerialController implements PortProvider {

    @Override
    public PortKind kind() {
        return PortKind.CONTROLLER;
    }

    @Override
    public String name() {
        return "serial";
    }

    @Override
    public boolean simulated() {
        return false;
    }

    @Override
    public Object open(PortOpening opening) throws PortException {
        PortSettings settings = opening.settings();
        SerialSettings line = SerialSettings.of(settings);
        TotalPattern pattern = pattern(settings);
        LineTalk talk =
                new LineTalk(
                        "pattern",
                        TotalPattern.framer(),
                        (atNanos, text) ->
                                pattern.decode(text)
                                        .map(total -> new RunInput.ControllerTotal(atNanos, total)),
                        Optional.empty());
        return SerialSource.open(kind(), line, talk, opening);
    }

    private static TotalPattern pattern(PortSettings settings) {
        Optional<VolumeUnit> unit;
        try {
            unit = settings.optionalText("unit").map(VolumeUnit::ofSuffix);
        } catch (IllegalArgumentException refusal) {
            throw settings.refused("unit", refusal.getMessage());
        }
        try {
            return new TotalPattern(settings.text("pattern"), unit);
        } catch (IllegalArgumentException refusal) {
            throw settings.refused("pattern", refusal.getMessage());
        }
    }
}
