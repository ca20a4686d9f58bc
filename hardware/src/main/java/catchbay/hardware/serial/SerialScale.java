package catchbay.hardware.serial;

import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.PortProvider;
import catchbay.port.PortSettings;
import catchbay.quantity.MassUnit;
import catchbay.run.RunInput;
import catchbay.signal.SmaScale;
import catchbay.signal.StreamPattern;

import java.util.Optional;

/** Opens a scale on a serial line: {@code scale = "serial"}. Settings: docs/operating/scale.md. */
public final class SerialScale implements PortProvider {

    @Override
    public PortKind kind() {
        return PortKind.SCALE;
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
        LineTalk talk = talk(opening, line);
        return SerialSource.open(kind(), line, talk, opening);
    }

    private static LineTalk talk(PortOpening opening, SerialSettings line) {
        PortSettings settings = opening.settings();
        String protocol = settings.text("protocol");
        return switch (protocol) {
            case "sma-poll" ->
                    sma(
                            protocol,
                            Optional.of(
                                    LineTalk.Question.polled(
                                            settings,
                                            line,
                                            SmaScale.askWeight(isFine(settings)),
                                            SmaScale.FRAME_BYTES)));
            case "sma-repeat" ->
                    sma(
                            protocol,
                            Optional.of(
                                    LineTalk.Question.lasting(
                                            SmaScale.repeatWeight(isFine(settings)),
                                            SmaScale.abort())));
            case "sma-stream" -> sma(protocol, Optional.empty());
            case "pattern" -> pattern(opening);
            case "modbus" -> ModbusTalk.of(settings, line, unit(opening));
            default ->
                    throw settings.refused(
                            "protocol",
                            "the protocol '"
                                    + protocol
                                    + "' is not known; use sma-poll, sma-repeat, sma-stream,"
                                    + " pattern or modbus");
        };
    }

    private static boolean isFine(PortSettings settings) {
        return settings.flag("high_resolution", false);
    }

    private static LineTalk sma(String name, Optional<LineTalk.Question> question) {
        return new LineTalk(
                name,
                SmaScale.framer(),
                (atNanos, frame) ->
                        SmaScale.decode(frame).map(value -> new RunInput.Scale(atNanos, value)),
                question);
    }

    private static LineTalk pattern(PortOpening opening) {
        PortSettings settings = opening.settings();
        Optional<MassUnit> unit = unit(opening);
        StreamPattern pattern;
        try {
            pattern = new StreamPattern(settings.text("pattern"), unit);
        } catch (IllegalArgumentException refusal) {
            throw settings.refused("pattern", refusal.getMessage());
        }
        return new LineTalk(
                "pattern",
                StreamPattern.framer(),
                (atNanos, line) ->
                        pattern.decode(line).map(value -> new RunInput.Scale(atNanos, value)),
                Optional.empty());
    }

    private static Optional<MassUnit> unit(PortOpening opening) {
        PortSettings settings = opening.settings();
        Optional<MassUnit> unit;
        try {
            unit = settings.optionalText("unit").map(MassUnit::ofSymbol);
        } catch (IllegalArgumentException refusal) {
            throw settings.refused("unit", refusal.getMessage());
        }
        Optional<MassUnit> weighed = opening.setup().scale().map(scale -> scale.unit());
        if (unit.isPresent() && weighed.isPresent() && !unit.equals(weighed)) {
            throw settings.refused(
                    "unit",
                    "the line's unit is "
                            + unit.get().symbol()
                            + " and the scale's is "
                            + weighed.get().symbol()
                            + "; both must name what the scale shows");
        }
        return unit;
    }
}
