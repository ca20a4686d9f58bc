package catchbay.signal;

import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;

import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Picks the running total out of a controller's text lines, by a pattern from the settings. Its
 * group {@code total} is the number, its group {@code unit} the unit's name.
 */
public final class TotalPattern {

    private static final String TOTAL = "total";
    private static final String UNIT = "unit";

    private final LinePattern pattern;
    private final Optional<VolumeUnit> locked;

    /**
     * @param pattern a regular expression in the notation of {@code docs/operating/scale.md} that
     *     covers a whole line
     * @param locked the unit the controller is set to; needed where the pattern has no group {@code
     *     unit}, and where the line says only "gal"
     * @throws IllegalArgumentException with a sentence, when the pattern cannot be used
     */
    public TotalPattern(String pattern, Optional<VolumeUnit> locked) {
        this.pattern = new LinePattern(pattern, Set.of(TOTAL, UNIT));
        this.locked = locked;
        if (!this.pattern.names(TOTAL)) {
            throw new IllegalArgumentException(
                    "pattern '"
                            + pattern
                            + "' has no group (?<total>...) that picks out the number");
        }
        if (!this.pattern.names(UNIT) && locked.isEmpty()) {
            throw new IllegalArgumentException(
                    "pattern '"
                            + pattern
                            + "' has no group (?<unit>...) and no unit is set; a total without a"
                            + " unit cannot be used");
        }
    }

    /** Cuts a controller's bytes into lines for {@link #decode}. */
    public static ByteFramer framer() {
        return ByteFramer.lines(LinePattern.LINE_BYTES_MAX);
    }

    /** Reads one line, without its end. */
    public Decoded<Volume> decode(String line) {
        Optional<Map<String, LinePattern.Span>> match = pattern.match(line);
        if (match.isEmpty()) {
            return new Decoded.Refused<>("the pattern does not cover the line '" + line + "'");
        }
        Map<String, LinePattern.Span> groups = match.get();
        LinePattern.Span total = groups.get(TOTAL);
        if (total == null) {
            return new Decoded.Refused<>("the line '" + line + "' carries no total");
        }
        return switch (ShownNumber.within(line, total)) {
            case Decoded.Refused<Double>(String reason) -> new Decoded.Refused<>(reason);
            case Decoded.Value<Double>(Double amount) ->
                    withUnit(line, Optional.ofNullable(groups.get(UNIT)), amount);
        };
    }

    private Decoded<Volume> withUnit(String line, Optional<LinePattern.Span> span, double amount) {
        if (amount < 0) {
            return new Decoded.Refused<>("a total below zero, " + amount + ", cannot be used");
        }
        Optional<VolumeUnit> unit = locked;
        if (span.isPresent()) {
            String named = line.substring(span.get().from(), span.get().to()).strip();
            unit = unit(named);
            if (unit.isEmpty()) {
                return new Decoded.Refused<>(
                        "the unit '"
                                + named
                                + "' is not known, or may be a US or an Imperial gallon; set the"
                                + " unit");
            }
            if (locked.isPresent() && !locked.equals(unit)) {
                return new Decoded.Refused<>(
                        "the line is in "
                                + named
                                + ", the controller is set up as "
                                + locked.get().suffix());
            }
        }
        if (unit.isEmpty()) {
            return new Decoded.Refused<>("the line '" + line + "' names no unit");
        }
        return new Decoded.Value<>(Volume.of(amount, unit.get()));
    }

    /**
     * The unit that a line names. A bare gallon is one of two sizes: only the settings can say
     * which.
     */
    private Optional<VolumeUnit> unit(String named) {
        return switch (named.toLowerCase(Locale.ROOT).replaceAll("[ ._]", "")) {
            case "usgal", "usg" -> Optional.of(VolumeUnit.US_GALLON);
            case "impgal", "imperialgal", "ukgal" -> Optional.of(VolumeUnit.IMPERIAL_GALLON);
            case "l", "ltr", "liter", "liters", "litre", "litres" -> Optional.of(VolumeUnit.LITRE);
            case "gal", "gals", "gallon", "gallons" ->
                    locked.filter(unit -> unit != VolumeUnit.LITRE);
            default -> Optional.empty();
        };
    }
}
