package catchbay.signal;

import catchbay.quantity.Pressure;

import java.util.Optional;

/**
 * What a gauge has told around one window. Constant-size; immutable. No amount depends on it: it
 * tells whether the bay was like the road for the truck.
 *
 * @param span which side of the window's ends has been reached
 * @param readings how many pressures came within the window
 * @param sumKilopascals of them, kPa
 * @param leastKilopascals the least of them, kPa
 * @param mostKilopascals the most of them, kPa
 * @param heard whether the gauge has ever said anything
 * @param missing why the last reading in the window that was no pressure was none; null where all
 *     were
 */
public record PressureSense(
        Span span,
        long readings,
        double sumKilopascals,
        double leastKilopascals,
        double mostKilopascals,
        boolean heard,
        String missing) {

    /** No gauge is heard, and the window is not open. */
    public static final PressureSense SILENT =
            new PressureSense(Span.BEFORE, 0, 0, 0, 0, false, null);

    /** Where the window stands. */
    public enum Span {
        /** Not open yet. */
        BEFORE,
        /** Open. */
        WITHIN,
        /** Closed. */
        AFTER
    }

    /**
     * The pressure in a window.
     *
     * @param mean of all readings
     * @param least the least of them
     * @param most the most of them
     */
    public record InWindow(Pressure mean, Pressure least, Pressure most) {}

    /** This and one more reading. */
    public PressureSense take(PressureReading reading) {
        if (span != Span.WITHIN) {
            return heard ? this : new PressureSense(span, 0, 0, 0, 0, true, null);
        }
        return switch (reading) {
            case PressureReading.Missing(String reason) ->
                    new PressureSense(
                            span,
                            readings,
                            sumKilopascals,
                            leastKilopascals,
                            mostKilopascals,
                            true,
                            reason);
            case PressureReading.Shown(Pressure pressure) -> {
                double shown = pressure.kilopascals();
                yield new PressureSense(
                        span,
                        readings + 1,
                        sumKilopascals + shown,
                        readings == 0 ? shown : Math.min(leastKilopascals, shown),
                        readings == 0 ? shown : Math.max(mostKilopascals, shown),
                        true,
                        missing);
            }
        };
    }

    /** The window opens. */
    public PressureSense opened() {
        return new PressureSense(Span.WITHIN, 0, 0, 0, 0, heard, null);
    }

    /** The window closes. */
    public PressureSense closed() {
        return new PressureSense(
                Span.AFTER,
                readings,
                sumKilopascals,
                leastKilopascals,
                mostKilopascals,
                heard,
                missing);
    }

    /** Of a window that was told of, and in which nothing was missing; empty otherwise. */
    public Optional<InWindow> inWindow() {
        return span == Span.AFTER && readings > 0 && missing == null
                ? Optional.of(
                        new InWindow(
                                new Pressure(sumKilopascals / readings),
                                new Pressure(leastKilopascals),
                                new Pressure(mostKilopascals)))
                : Optional.empty();
    }
}
