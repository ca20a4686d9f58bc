package catchbay.metrology;

import catchbay.quantity.Numeral;
import catchbay.quantity.PulseConstant;
import catchbay.quantity.Ratio;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;

import java.math.BigDecimal;
import java.util.Optional;

/**
 * The constant of a truck's flow meter in the form in which its controller takes it.
 *
 * @param form what the number means
 * @param value the number entered now, finite and > 0
 * @param unit the volume unit it is about; for {@link Form#PERCENT_OF_READING} the unit of {@code
 *     base}
 * @param step the smallest change that can be entered, > 0
 * @param least the smallest number that can be entered, > 0
 * @param most the largest number that can be entered
 * @param base pulses per volume behind a per-cent-of-reading constant, where the bay counts the
 *     truck's pulses
 */
public record TruckConstant(
        Form form,
        double value,
        VolumeUnit unit,
        double step,
        double least,
        double most,
        Optional<PulseConstant> base) {

    /** What the number of a constant means. */
    public enum Form {
        /** Pulses for one of the volume unit: grows when the meter over-reads. */
        PULSES_PER_VOLUME("pulses-per-volume"),
        /** Volume units for one pulse: shrinks when the meter over-reads. */
        VOLUME_PER_PULSE("volume-per-pulse"),
        /**
         * Per cent by which the controller scales its own reading: shrinks when the meter
         * over-reads.
         */
        PERCENT_OF_READING("percent-of-reading");

        private final String key;

        Form(String key) {
            this.key = key;
        }

        /** How settings and traces call this form. */
        public String key() {
            return key;
        }

        /** The form called so; fails with a sentence that lists the known ones. */
        public static Form ofKey(String key) {
            for (Form form : values()) {
                if (form.key.equals(key)) {
                    return form;
                }
            }
            throw new IllegalArgumentException(
                    "unknown constant form '"
                            + key
                            + "'; use pulses-per-volume, volume-per-pulse or percent-of-reading");
        }
    }

    public TruckConstant {
        positive("truck constant", value);
        positive("entry step of the truck constant", step);
        positive("smallest truck constant", least);
        positive("largest truck constant", most);
        if (least > most) {
            throw new IllegalArgumentException(
                    "smallest truck constant " + least + " is above the largest, " + most);
        }
        if (value < least || value > most) {
            throw new IllegalArgumentException(
                    "truck constant "
                            + value
                            + " is outside its own limits of "
                            + least
                            + " to "
                            + most
                            + "; check the constant or its limits");
        }
    }

    /**
     * Pulses per volume that the controller works with; empty for a per-cent constant without a
     * base.
     */
    public Optional<PulseConstant> pulses() {
        return switch (form) {
            case PULSES_PER_VOLUME -> Optional.of(PulseConstant.per(value, unit));
            case VOLUME_PER_PULSE -> Optional.of(PulseConstant.per(1 / value, unit));
            case PERCENT_OF_READING ->
                    base.map(b -> new PulseConstant(b.pulsesPerLitre() / (value / 100)));
        };
    }

    /** This constant with another number; fails when the number is outside the limits. */
    public TruckConstant with(double number) {
        return new TruckConstant(form, number, unit, step, least, most, base);
    }

    /**
     * The number that cures a meter error, before rounding: {@code old R/M} for pulses per volume,
     * {@code old M/R} for the two others.
     *
     * @param reported what the controller reported, > 0
     * @param measured what the bay measured, > 0
     */
    public double curing(Volume reported, Volume measured) {
        return curing(reported.litres() / measured.litres());
    }

    /** As {@link #curing(Volume, Volume)}, from {@code R/M}, > 0. */
    double curing(double over) {
        return form == Form.PULSES_PER_VOLUME ? value * over : value / over;
    }

    /**
     * The meter error of a controller that holds one number where another would be right: {@code
     * right/entered - 1} for pulses per volume, {@code entered/right - 1} for the two others.
     *
     * @param entered what the controller works with, > 0
     * @param right what it should work with, > 0
     */
    public Ratio errorWith(double entered, double right) {
        return new Ratio((form == Form.PULSES_PER_VOLUME ? right / entered : entered / right) - 1);
    }

    /** A number rounded to the nearest that can be entered. */
    public double rounded(double number) {
        return BigDecimal.valueOf(step)
                .multiply(BigDecimal.valueOf(Math.rint(number / step)))
                .doubleValue();
    }

    /** Whether a number can be entered as far as the limits go. */
    public boolean accepts(double number) {
        return number >= least && number <= most;
    }

    /** The numbers that can be entered, as in {@code 100 pulses/US gal to 20000 pulses/US gal}. */
    public String limits() {
        return written(least) + " to " + written(most);
    }

    /** The unit of the number, for a person. */
    public String symbol() {
        return switch (form) {
            case PULSES_PER_VOLUME -> "pulses/" + unit.symbol();
            case VOLUME_PER_PULSE -> unit.symbol() + "/pulse";
            case PERCENT_OF_READING -> "% of reading";
        };
    }

    /** Decimals of the entry step. */
    public int decimals() {
        return Math.max(0, BigDecimal.valueOf(step).stripTrailingZeros().scale());
    }

    /** A number of this constant as it is entered, with its unit. */
    public String written(double number) {
        return number(number) + " " + symbol();
    }

    /** A number of this constant as it is entered. */
    public String number(double number) {
        return Numeral.of(BigDecimal.valueOf(number).stripTrailingZeros());
    }

    private static void positive(String what, double number) {
        if (!Double.isFinite(number) || number <= 0) {
            throw new IllegalArgumentException(what + " must be finite and > 0, was " + number);
        }
    }
}
