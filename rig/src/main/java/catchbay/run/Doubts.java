package catchbay.run;

import catchbay.quantity.Mass;
import catchbay.quantity.Ratio;
import catchbay.quantity.Temperature;
import catchbay.quantity.Volume;
import catchbay.signal.TemperaturePlace;

import java.util.Collections;
import java.util.EnumSet;
import java.util.Optional;
import java.util.Set;

/**
 * What is known of a bay's errors beyond its certificates' figures. Where nothing else is said, a
 * half-width is of an even spread (JCGM 100:2008, 4.3.7). What they do to a result stands in {@code
 * src/docs/method.md}.
 *
 * @param reference of the reference meter
 * @param scale of the scale under the tank
 * @param diverter of the diverter
 * @param temperatures where the liquid is how warm
 * @param line of what stands between the truck's meter and the bay's instruments
 * @param speed half-width of the speed that the truck believes, where the bay does not count it
 * @param salt half-width of the salt that the controller reports, or that its feeder's constant
 *     tells
 * @param scatter of repeated catches
 */
public record Doubts(
        Reference reference,
        Scale scale,
        Diverter diverter,
        Temperatures temperatures,
        Line line,
        Ratio speed,
        Ratio salt,
        Scatter scatter) {

    private static final Mass NOTHING = new Mass(0);

    /** The same with other temperatures. */
    Doubts with(Temperatures others) {
        return new Doubts(reference, scale, diverter, others, line, speed, salt, scatter);
    }

    /** Where the settings say nothing: common practice, no source. */
    public static final Doubts USUAL =
            new Doubts(
                    Reference.USUAL,
                    Scale.usual(NOTHING),
                    Diverter.USUAL,
                    Temperatures.USUAL,
                    Line.USUAL,
                    Ratio.ofPercent(0.5),
                    Ratio.ofPercent(1),
                    Scatter.USUAL);

    private static double atLeastZero(String what, double number, String unit) {
        if (!Double.isFinite(number) || number < 0) {
            throw new IllegalArgumentException(
                    what + " must be finite and >= 0 " + unit + ", was " + number);
        }
        return number;
    }

    /** The same with other doubts of the diverter. */
    Doubts with(Diverter other) {
        return new Doubts(reference, scale, other, temperatures, line, speed, salt, scatter);
    }

    /** The same with other doubts of the scale. */
    public Doubts with(Scale other) {
        return new Doubts(reference, other, diverter, temperatures, line, speed, salt, scatter);
    }

    /**
     * Of the reference meter.
     *
     * @param driftPerYear half-width of how far its constant may have moved in each year since its
     *     certificate
     * @param otherLiquid half-width of what a liquid of another viscosity than the certificate's
     *     does to its constant
     * @param dampingNanos how far its output lags behind the flow
     * @param coldest the lowest temperature of liquid it may be used at, where one is stated
     * @param warmest the highest
     */
    public record Reference(
            Ratio driftPerYear,
            Ratio otherLiquid,
            long dampingNanos,
            Optional<Temperature> coldest,
            Optional<Temperature> warmest) {

        /** 0.1 % a year, 0.1 % for the liquid, no lag, no limits. */
        public static final Reference USUAL =
                new Reference(
                        Ratio.ofPercent(0.1),
                        Ratio.ofPercent(0.1),
                        0,
                        Optional.empty(),
                        Optional.empty());

        public Reference {
            atLeastZero("drift of the reference in a year", driftPerYear.value(), "");
            atLeastZero("effect of another liquid on the reference", otherLiquid.value(), "");
            atLeastZero("damping of the reference", dampingNanos, "ns");
            if (coldest.isPresent()
                    && warmest.isPresent()
                    && coldest.get().compareTo(warmest.get()) >= 0) {
                throw new IllegalArgumentException(
                        "the reference's lowest temperature of "
                                + coldest.get().celsius()
                                + " degrees Celsius is not below its highest of "
                                + warmest.get().celsius());
            }
        }

        /** Whether liquid so warm is outside what it may be used at. */
        boolean excludes(Temperature liquid) {
            return coldest.filter(least -> liquid.compareTo(least) < 0).isPresent()
                    || warmest.filter(most -> liquid.compareTo(most) > 0).isPresent();
        }
    }

    /**
     * Of the scale; what its certificate's uncertainty holds already is 0 here.
     *
     * @param certifiedBase what its certificate's expanded uncertainty (k = 2) is at any load: of
     *     {@code U = base + share x load} the base, independent at the two readings of a catch
     * @param linearity half-width of its departure from a straight line
     * @param repeatability standard deviation of one reading
     * @param eccentricity half-width of what an uneven load does
     * @param creep half-width of what standing under load does within a catch
     * @param zeroDrift half-width of how far the zero moves between the two readings
     * @param hose half-width of what a hose that touches the tank carries (the shunt test)
     * @param drip half-width of what hangs at the outlet or stays in the tank
     * @param driftPerYear half-width of how far its span may have moved in each year since its
     *     certificate
     * @param perKelvin half-width of the change of span for each kelvin away from its calibration
     * @param smallestNet the smallest catch it may weigh
     * @param inPlace whether it was calibrated, or checked with weights, where it stands; empty
     *     where that is not said
     */
    public record Scale(
            Mass certifiedBase,
            Mass linearity,
            Mass repeatability,
            Mass eccentricity,
            Mass creep,
            Mass zeroDrift,
            Mass hose,
            Mass drip,
            Ratio driftPerYear,
            Ratio perKelvin,
            Mass smallestNet,
            Optional<Boolean> inPlace) {

        /** 0.05 % a year, and a drop of so much; nothing else beyond the certificate. */
        public static Scale usual(Mass drip) {
            return new Scale(
                    NOTHING,
                    NOTHING,
                    NOTHING,
                    NOTHING,
                    NOTHING,
                    NOTHING,
                    NOTHING,
                    drip,
                    Ratio.ofPercent(0.05),
                    Ratio.ofPercent(0),
                    NOTHING,
                    Optional.empty());
        }

        /** The same with another figure for the hose. */
        public Scale withHose(Mass other) {
            return new Scale(
                    certifiedBase,
                    linearity,
                    repeatability,
                    eccentricity,
                    creep,
                    zeroDrift,
                    other,
                    drip,
                    driftPerYear,
                    perKelvin,
                    smallestNet,
                    inPlace);
        }

        public Scale {
            atLeastZero("drift of the scale in a year", driftPerYear.value(), "");
            atLeastZero("change of the scale's span per kelvin", perKelvin.value(), "");
        }
    }

    /**
     * Of the diverter.
     *
     * @param timingErrorSeconds by how much longer liquid runs into the tank than the window lasts;
     *     below zero when shorter
     * @param timingHalfWidthSeconds how well that is known
     * @param timingSource how it was found, in words
     */
    public record Diverter(
            double timingErrorSeconds, double timingHalfWidthSeconds, String timingSource) {

        /** No error known, good to 20 ms. */
        public static final Diverter USUAL =
                new Diverter(0, 0.02, "not tested; common practice, no source");

        public Diverter {
            if (!(Math.abs(timingErrorSeconds) <= 10)) {
                throw new IllegalArgumentException(
                        "timing error of the diverter must be from -10 to 10 s, was "
                                + timingErrorSeconds);
            }
            atLeastZero("uncertainty of the diverter's timing", timingHalfWidthSeconds, "s");
            if (timingSource.isBlank()) {
                throw new IllegalArgumentException(
                        "the diverter's timing error needs its source; say how it was found");
            }
        }
    }

    /**
     * How warm the liquid is where it is measured; volumes are stated as at the truck's meter.
     *
     * @param truckMeter at the truck's meter; the three are taken as one where they are not known
     * @param reference at the reference meter
     * @param room around the scale
     * @param halfWidthKelvin how well the difference between the places is known
     * @param expansionPerKelvin of the liquid's volume, per kelvin, where it was entered; else the
     *     slope of its density tells it, and where that is not known {@link #EXPANSION_USUAL} is
     *     taken
     * @param sensors what measures them during a catch, in place of what is given here
     */
    public record Temperatures(
            Optional<Temperature> truckMeter,
            Optional<Temperature> reference,
            Optional<Temperature> room,
            double halfWidthKelvin,
            Optional<Double> expansionPerKelvin,
            Sensors sensors) {

        /** Sodium chloride brine of 23 % about 15 degrees Celsius (Laliberte 2009). */
        static final double EXPANSION_USUAL = 0.000_45;

        /** All alike within one kelvin. */
        public static final Temperatures USUAL =
                new Temperatures(
                        Optional.empty(),
                        Optional.empty(),
                        Optional.empty(),
                        1,
                        Optional.empty(),
                        Sensors.NONE);

        public Temperatures {
            atLeastZero("uncertainty of temperatures", halfWidthKelvin, "K");
            if (expansionPerKelvin.isPresent() && !(Math.abs(expansionPerKelvin.get()) <= 0.01)) {
                throw new IllegalArgumentException(
                        "expansion of the liquid must be from -0.01 to 0.01 per kelvin, was "
                                + expansionPerKelvin.get());
            }
        }

        /** By how many kelvin the liquid is warmer at the truck's meter than at the reference. */
        double truckOverReference() {
            return truckMeter.isPresent() && reference.isPresent()
                    ? truckMeter.get().minus(reference.get())
                    : 0;
        }
    }

    /**
     * The thermometers that a bay has.
     *
     * @param places where they are
     * @param halfWidthKelvin how far each of them may be off
     * @param pauseNanosMax how long nothing may come of one that counts, ns
     */
    public record Sensors(
            Set<TemperaturePlace> places, double halfWidthKelvin, long pauseNanosMax) {

        /** None; what they would be, were there any: good to 0.5 K, and heard every 10 s. */
        public static final Sensors NONE = new Sensors(Set.of(), 0.5, 10_000_000_000L);

        public Sensors {
            atLeastZero("uncertainty of a thermometer", halfWidthKelvin, "K");
            atLeastZero("pause of a thermometer", pauseNanosMax, "ns");
            Set<TemperaturePlace> inOrder = EnumSet.noneOf(TemperaturePlace.class);
            inOrder.addAll(places);
            places = Collections.unmodifiableSet(inOrder);
        }
    }

    /**
     * Of the liquid that stands between the truck's meter and the bay's instruments.
     *
     * @param stored how much it is
     * @param swell half-width of what the hose swells or shrinks, and air in it gives or takes,
     *     during a catch
     * @param kelvin half-width of how its temperature changes during a catch
     */
    public record Line(Volume stored, Volume swell, double kelvin) {

        /** Two US gallons that may warm or cool by a kelvin; no swelling. */
        public static final Line USUAL = new Line(Volume.ofUsGallons(2), Volume.ZERO, 1);

        public Line {
            atLeastZero("change of temperature in the line", kelvin, "K");
        }
    }

    /**
     * How repeated catches of one truck at one flow scatter, as standard deviations of the meter
     * error, planned from earlier work; what a series of repeats shows is looked at there.
     *
     * @param run from run to run
     * @param runs from how many runs that is known, at least 2
     * @param day from day to day
     * @param days from how many days that is known, at least 2
     */
    public record Scatter(Ratio run, int runs, Ratio day, int days) {

        /** 0.05 % and 0.05 %, each as if from nine. */
        public static final Scatter USUAL =
                new Scatter(Ratio.ofPercent(0.05), 9, Ratio.ofPercent(0.05), 9);

        public Scatter {
            atLeastZero("scatter from run to run", run.value(), "");
            atLeastZero("scatter from day to day", day.value(), "");
            if (runs < 2 || days < 2) {
                throw new IllegalArgumentException(
                        "a scatter needs at least 2 runs and 2 days behind it, has "
                                + runs
                                + " and "
                                + days);
            }
        }
    }
}
