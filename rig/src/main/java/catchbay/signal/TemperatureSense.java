package catchbay.signal;

import catchbay.quantity.Temperature;

import java.util.Locale;
import java.util.Optional;

/**
 * What one thermometer has told around one window. Constant-size; immutable. A reading counts when
 * it can be: within {@link #COLDEST_CELSIUS} and {@link #WARMEST_CELSIUS}, not the 85 degrees of a
 * sensor that has just been powered on, and not a jump, unless the next one says the same. A sensor
 * takes most of a second to read, so on which side of a window's stamp a reading falls is no
 * matter.
 *
 * @param pauseNanosMax how long nothing may come that counts
 * @param heardNanos stamp of the last reading that counted, or of the window's opening where that
 *     was later and nothing fresh was known then; {@link Tally#NONE} before both
 * @param last the last reading that counted; null before any
 * @param doubted a jump that the next reading may confirm; null for none
 * @param celsiusSum of the readings within the window, C
 * @param readings how many they are
 * @param paused whether the window has had a pause that is too long
 * @param span which side of the window's ends has been reached
 * @param missing why the last reading that did not count did not, in words; null where all counted
 * @param amiss what did not count since the window opened, or before it
 */
public record TemperatureSense(
        long pauseNanosMax,
        long heardNanos,
        Seen last,
        Seen doubted,
        double celsiusSum,
        long readings,
        boolean paused,
        Span span,
        String missing,
        Amiss amiss) {

    /** From the coldest brine up: as a temperature in the settings. */
    public static final double COLDEST_CELSIUS = -40;

    /** To a hot summer's bay. */
    public static final double WARMEST_CELSIUS = 60;

    /** What common 1-wire sensors hold before their first conversion (their makers' sheets). */
    private static final double POWER_ON_CELSIUS = 85;

    /**
     * Common practice, no source: a sensor in liquid does not move so far from one reading to the
     * next.
     */
    public static final double JUMP_KELVIN = 5;

    /** Why a power-on value does not count. */
    public static final String POWERED_ON =
            "it showed the 85 C of a sensor that has just been powered on";

    /**
     * Answers that did not count.
     *
     * @param answers how many
     * @param figure of the last that told a temperature which cannot be, or which leapt: why it did
     *     not count, in words; null where none did
     */
    public record Amiss(long answers, String figure) {

        static final Amiss NONE = new Amiss(0, null);
    }

    /** A reading and its stamp. */
    public record Seen(long atNanos, double celsius) {}

    /** Where the window stands. */
    public enum Span {
        /** Not open yet. */
        BEFORE,
        /** Open. */
        WITHIN,
        /** Closed. */
        AFTER
    }

    /** A thermometer that has said nothing. */
    public static TemperatureSense starting(long pauseNanosMax) {
        return new TemperatureSense(
                pauseNanosMax, Tally.NONE, null, null, 0, 0, false, Span.BEFORE, null, Amiss.NONE);
    }

    /** This and one more reading. */
    public TemperatureSense take(long atNanos, TemperatureReading reading) {
        if (span == Span.AFTER) {
            return this;
        }
        return switch (reading) {
            case TemperatureReading.Missing(String reason) ->
                    without(doubted, reason, amiss.figure());
            case TemperatureReading.Shown(Temperature t) -> take(new Seen(atNanos, t.celsius()));
        };
    }

    private TemperatureSense take(Seen seen) {
        if (seen.celsius() == POWER_ON_CELSIUS) {
            return without(doubted, POWERED_ON, POWERED_ON);
        }
        if (seen.celsius() < COLDEST_CELSIUS || seen.celsius() > WARMEST_CELSIUS) {
            String why = said("it showed %.3f C, which cannot be", seen.celsius());
            return without(doubted, why, why);
        }
        boolean leapt = last != null && apart(last, seen);
        if (leapt && (doubted == null || apart(doubted, seen))) {
            String why = said("it leapt to %.3f C", seen.celsius());
            return without(seen, why, why);
        }
        boolean within = span == Span.WITHIN;
        boolean late = within && seen.atNanos() - heardNanos > pauseNanosMax;
        return new TemperatureSense(
                pauseNanosMax,
                seen.atNanos(),
                seen,
                null,
                within ? celsiusSum + seen.celsius() : 0,
                within ? readings + 1 : 0,
                paused || late,
                span,
                missing,
                amiss);
    }

    private TemperatureSense without(Seen jump, String why, String figure) {
        return new TemperatureSense(
                pauseNanosMax,
                heardNanos,
                last,
                jump,
                celsiusSum,
                readings,
                paused,
                span,
                why,
                new Amiss(amiss.answers() + 1, figure));
    }

    private static boolean apart(Seen one, Seen other) {
        return Math.abs(one.celsius() - other.celsius()) > JUMP_KELVIN;
    }

    private static String said(String format, double celsius) {
        return String.format(Locale.ROOT, format, celsius);
    }

    /** The window opened at this stamp. What was told last holds until the next reading. */
    public TemperatureSense open(long nanos) {
        boolean fresh = last != null && nanos - last.atNanos() <= pauseNanosMax;
        return new TemperatureSense(
                pauseNanosMax,
                fresh ? last.atNanos() : nanos,
                last,
                doubted,
                fresh ? last.celsius() : 0,
                fresh ? 1 : 0,
                false,
                Span.WITHIN,
                missing,
                Amiss.NONE);
    }

    /** The window closed at this stamp. */
    public TemperatureSense close(long nanos) {
        boolean stale = readings == 0 || nanos - heardNanos > pauseNanosMax;
        return new TemperatureSense(
                pauseNanosMax,
                heardNanos,
                last,
                doubted,
                celsiusSum,
                readings,
                paused || stale,
                Span.AFTER,
                missing,
                amiss);
    }

    /**
     * The mean of a window that was told of throughout; empty where it was not, and before it has
     * closed.
     */
    public Optional<Temperature> mean() {
        return span == Span.AFTER && !paused
                ? Optional.of(new Temperature(celsiusSum / readings))
                : Optional.empty();
    }
}
