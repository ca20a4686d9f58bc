package catchbay.signal;

import catchbay.quantity.MassUnit;

import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Reads the lines of a scale that sends without being asked, by a pattern from the settings. Its
 * group {@code weight} is the number; {@code unit} is the unit's symbol; {@code motion} and {@code
 * net} say that the load moves, or that a tare is subtracted, wherever they take part with
 * something other than blanks.
 */
public final class StreamPattern {

    private static final String WEIGHT = "weight";
    private static final String UNIT = "unit";
    private static final String MOTION = "motion";
    private static final String NET = "net";

    private final LinePattern pattern;
    private final Optional<MassUnit> locked;

    /**
     * @param pattern a regular expression in the notation of {@code docs/operating/scale.md} that
     *     covers a whole line
     * @param locked the unit the scale is set to; needed where the pattern has no group {@code
     *     unit}
     * @throws IllegalArgumentException with a sentence, when the pattern cannot be used
     */
    public StreamPattern(String pattern, Optional<MassUnit> locked) {
        this.pattern = new LinePattern(pattern, Set.of(WEIGHT, UNIT, MOTION, NET));
        this.locked = locked;
        if (!this.pattern.names(WEIGHT)) {
            throw new IllegalArgumentException(
                    "pattern '"
                            + pattern
                            + "' has no group (?<weight>...) that picks out the number");
        }
        if (!this.pattern.names(UNIT) && locked.isEmpty()) {
            throw new IllegalArgumentException(
                    "pattern '"
                            + pattern
                            + "' has no group (?<unit>...) and no unit is set; a weight without a"
                            + " unit cannot be used");
        }
    }

    /** Cuts a scale's bytes into lines for {@link #decode}. */
    public static ByteFramer framer() {
        return ByteFramer.lines(LinePattern.LINE_BYTES_MAX);
    }

    /** Reads one line, without its end. */
    public Decoded<ScaleFrame> decode(String line) {
        Optional<Map<String, LinePattern.Span>> match = pattern.match(line);
        if (match.isEmpty()) {
            return new Decoded.Refused<>("the pattern does not cover the line '" + line + "'");
        }
        Map<String, LinePattern.Span> groups = match.get();
        LinePattern.Span weight = groups.get(WEIGHT);
        if (weight == null) {
            return new Decoded.Refused<>("the line '" + line + "' carries no weight");
        }
        return switch (ShownNumber.within(line, weight)) {
            case Decoded.Refused<Double>(String reason) -> new Decoded.Refused<>(reason);
            case Decoded.Value<Double>(Double amount) -> withUnit(line, groups, amount);
        };
    }

    private Decoded<ScaleFrame> withUnit(
            String line, Map<String, LinePattern.Span> groups, double amount) {
        Optional<MassUnit> unit = locked;
        if (groups.containsKey(UNIT)) {
            String named = text(line, groups, UNIT);
            unit = unit(named);
            if (unit.isEmpty()) {
                return new Decoded.Refused<>(
                        "the unit '" + named + "' is none of kg, lb, lbs, g, t, ton, oz");
            }
            if (locked.isPresent() && !locked.equals(unit)) {
                return new Decoded.Refused<>(
                        "the line is in "
                                + named
                                + ", the scale is set up as "
                                + locked.get().symbol());
            }
        }
        if (unit.isEmpty()) {
            return new Decoded.Refused<>("the line '" + line + "' names no unit");
        }
        boolean net = !text(line, groups, NET).isEmpty();
        boolean inMotion = !text(line, groups, MOTION).isEmpty();
        return new Decoded.Value<>(new ScaleFrame.Weight(amount, unit.get(), net, inMotion));
    }

    private static String text(String line, Map<String, LinePattern.Span> groups, String name) {
        LinePattern.Span span = groups.get(name);
        return span == null ? "" : line.substring(span.from(), span.to()).strip();
    }

    private static Optional<MassUnit> unit(String named) {
        String symbol = named.toLowerCase(Locale.ROOT);
        for (MassUnit unit : MassUnit.values()) {
            if (unit.symbol().equals(symbol) || unit == MassUnit.POUND && symbol.equals("lbs")) {
                return Optional.of(unit);
            }
        }
        return Optional.empty();
    }
}
