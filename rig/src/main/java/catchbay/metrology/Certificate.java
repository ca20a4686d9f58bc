package catchbay.metrology;

import catchbay.quantity.Temperature;

import java.time.LocalDate;
import java.util.Optional;

/**
 * What a calibration laboratory states of an instrument of the bay.
 *
 * @param serial the instrument's serial number, not blank
 * @param date when it was calibrated
 * @param expiry the last day on which it may be used
 * @param relativeExpandedUncertainty the stated uncertainty, k = 2, as a ratio; >= 0
 * @param conditions where and with what it was calibrated
 */
public record Certificate(
        String serial,
        LocalDate date,
        LocalDate expiry,
        double relativeExpandedUncertainty,
        Conditions conditions) {

    /**
     * Where and with what an instrument was calibrated, as far as its certificate says.
     *
     * @param laboratory who did it
     * @param liquid what ran through a meter, by its name in the bay's settings
     * @param temperature of that liquid, or of a scale's room
     */
    public record Conditions(
            Optional<String> laboratory,
            Optional<String> liquid,
            Optional<Temperature> temperature) {

        /** Nothing is said. */
        public static final Conditions UNSAID =
                new Conditions(Optional.empty(), Optional.empty(), Optional.empty());
    }

    /** A certificate that says nothing of its conditions. */
    public Certificate(
            String serial, LocalDate date, LocalDate expiry, double relativeExpandedUncertainty) {
        this(serial, date, expiry, relativeExpandedUncertainty, Conditions.UNSAID);
    }

    /** Coverage factor with which certificates and tables state their uncertainty: about 95 %. */
    public static final double COVERAGE = 2;

    private static final double DAYS_OF_YEAR = 365.25;

    public Certificate {
        if (serial.isBlank()) {
            throw new IllegalArgumentException(
                    "a certificate needs the instrument's serial number");
        }
        if (expiry.isBefore(date)) {
            throw new IllegalArgumentException(
                    "certificate of "
                            + serial
                            + " expires on "
                            + expiry
                            + ", before its date "
                            + date);
        }
        if (!Double.isFinite(relativeExpandedUncertainty) || relativeExpandedUncertainty < 0) {
            throw new IllegalArgumentException(
                    "certificate uncertainty must be finite and >= 0, was "
                            + relativeExpandedUncertainty);
        }
    }

    /** How old it is on a day, years; below 0 before its date. */
    public double yearsOn(LocalDate day) {
        return (day.toEpochDay() - date.toEpochDay()) / DAYS_OF_YEAR;
    }

    /** Why the instrument may not be used on that day, as a sentence, or null when it may. */
    public String refusalOn(LocalDate day) {
        if (day.isAfter(expiry)) {
            return "certificate of "
                    + serial
                    + " expired on "
                    + expiry
                    + " and the run is on "
                    + day
                    + "; have it recalibrated and enter the new certificate";
        }
        if (day.isBefore(date)) {
            return "certificate of "
                    + serial
                    + " is dated "
                    + date
                    + ", after the run's day "
                    + day
                    + "; check the bay's date and the certificate's";
        }
        return null;
    }
}
