package catchbay.record;

import catchbay.quantity.Density;
import catchbay.quantity.FlowRate;
import catchbay.quantity.LiquidPerLane;
import catchbay.quantity.LiquidPerSalt;
import catchbay.quantity.Mass;
import catchbay.quantity.MassFraction;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Pressure;
import catchbay.quantity.PulseConstant;
import catchbay.quantity.Ratio;
import catchbay.quantity.SaltPerDistance;
import catchbay.quantity.Speed;
import catchbay.quantity.Temperature;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.function.DoubleFunction;
import java.util.function.Function;
import java.util.function.Predicate;

/**
 * A kind of quantity as documents write it: a number under a key whose ending says the unit. Every
 * ending of a measure may be used wherever the measure is asked for.
 *
 * @param <T> the quantity's type
 */
public final class Measure<T> {

    /** A unit: how a key that holds it ends, and the quantity that a number of it stands for. */
    record Ending<T>(String suffix, Function<BigDecimal, T> maker) {}

    /** Volumes: {@code us_gal}, {@code litres}, {@code imperial_gal}. */
    public static final Measure<Volume> VOLUME = volumes("", Volume::of);

    /**
     * Flows: {@code us_gal_per_min}, {@code litres_per_min}, {@code imperial_gal_per_min}, and per
     * second in litres.
     */
    public static final Measure<FlowRate> FLOW =
            volumes("_per_min", FlowRate::perMinute).or("litres_per_second", FlowRate::new);

    /**
     * Meter constants: {@code pulses_per_us_gal}, {@code pulses_per_litre}, {@code
     * pulses_per_imperial_gal}.
     */
    public static final Measure<PulseConstant> PULSE_CONSTANT =
            Measure.<PulseConstant>none()
                    .or("pulses_per_us_gal", n -> PulseConstant.per(n, VolumeUnit.US_GALLON))
                    .or("pulses_per_litre", PulseConstant::new)
                    .or(
                            "pulses_per_imperial_gal",
                            n -> PulseConstant.per(n, VolumeUnit.IMPERIAL_GALLON));

    /**
     * Masses: {@code lb}, {@code kg}, {@code g}, {@code oz}, {@code tons} (short, 2000 lb), {@code
     * tonnes}.
     */
    public static final Measure<Mass> MASS =
            Measure.<Mass>none()
                    .or("lb", n -> Mass.of(n, MassUnit.POUND))
                    .or("kg", Mass::new)
                    .or("g", n -> Mass.of(n, MassUnit.GRAM))
                    .or("oz", n -> Mass.of(n, MassUnit.OUNCE))
                    .or("tons", n -> Mass.of(n, MassUnit.SHORT_TON))
                    .or("tonnes", n -> Mass.of(n, MassUnit.TONNE));

    /** Mass for one pulse: {@code lb_per_pulse}, {@code kg_per_pulse}. */
    public static final Measure<Mass> MASS_PER_PULSE =
            Measure.<Mass>none()
                    .or("lb_per_pulse", n -> Mass.of(n, MassUnit.POUND))
                    .or("kg_per_pulse", Mass::new);

    /** Densities: {@code kg_per_m3}, {@code lb_per_us_gal}. */
    public static final Measure<Density> DENSITY =
            Measure.<Density>none()
                    .or("kg_per_m3", Density::new)
                    .or("lb_per_us_gal", Density::ofPoundsPerUsGallon);

    /**
     * Durations in nanoseconds, exact: {@code seconds}, {@code minutes}, {@code ms}, {@code us},
     * {@code ns}.
     */
    public static final Measure<Long> DURATION =
            new Measure<>(
                    List.of(
                            duration("seconds", 1_000_000_000L),
                            duration("minutes", 60_000_000_000L),
                            duration("ms", 1_000_000L),
                            duration("us", 1_000L),
                            duration("ns", 1L)));

    /** Speeds: {@code mph}, {@code km_per_h}, {@code metres_per_second}. */
    public static final Measure<Speed> SPEED =
            Measure.<Speed>none()
                    .or("mph", Speed::ofMilesPerHour)
                    .or("km_per_h", Speed::ofKilometresPerHour)
                    .or("metres_per_second", Speed::new);

    /** Gauge pressures and drops: {@code psi}, {@code kpa}, {@code bar}. */
    public static final Measure<Pressure> PRESSURE =
            Measure.<Pressure>none()
                    .or("psi", Pressure::ofPsi)
                    .or("kpa", Pressure::new)
                    .or("bar", n -> new Pressure(n * 100));

    /** Relative numbers: {@code percent}, {@code ratio} (0.05 is five per cent). */
    public static final Measure<Ratio> RATIO =
            Measure.<Ratio>none().or("percent", Ratio::ofPercent).or("ratio", Ratio::new);

    /** Temperatures: {@code fahrenheit}, {@code celsius}. */
    public static final Measure<Temperature> TEMPERATURE =
            Measure.<Temperature>none()
                    .or("fahrenheit", Temperature::ofFahrenheit)
                    .or("celsius", Temperature::new);

    /** Differences of temperatures in kelvin: {@code fahrenheit}, {@code celsius}. */
    public static final Measure<Double> TEMPERATURE_DIFFERENCE =
            Measure.<Double>none().or("fahrenheit", n -> n / 1.8).or("celsius", n -> n);

    /** Strengths of brines by mass: {@code percent}, {@code ratio}. */
    public static final Measure<MassFraction> STRENGTH =
            Measure.<MassFraction>none()
                    .or("percent", MassFraction::ofPercent)
                    .or("ratio", MassFraction::new);

    /** Parts of a whole and half-widths: relative numbers from 0 to 100 %. */
    public static final Measure<Ratio> SHARE =
            RATIO.within("from 0 to 100 %", ratio -> ratio.value() >= 0 && ratio.value() <= 1);

    /** What an instrument or a liquid is certified or known to: nothing is known without doubt. */
    public static final Measure<Ratio> UNCERTAINTY =
            RATIO.within("above 0 %, to 100 %", ratio -> ratio.value() > 0 && ratio.value() <= 1);

    /** Rates of direct application: {@code us_gal_per_lane_mile}, {@code litres_per_lane_km}. */
    public static final Measure<LiquidPerLane> LIQUID_PER_LANE =
            Measure.<LiquidPerLane>none()
                    .or("us_gal_per_lane_mile", LiquidPerLane::ofUsGallonsPerLaneMile)
                    .or("litres_per_lane_km", LiquidPerLane::new);

    /** Rates of pre-wetting: {@code us_gal_per_ton} (short ton), {@code litres_per_tonne}. */
    public static final Measure<LiquidPerSalt> LIQUID_PER_SALT =
            Measure.<LiquidPerSalt>none()
                    .or("us_gal_per_ton", LiquidPerSalt::ofUsGallonsPerTon)
                    .or("litres_per_tonne", LiquidPerSalt::new);

    /**
     * Salt for a length of road, all lanes together: {@code tons_per_mile} (short tons), {@code
     * kg_per_km}.
     */
    public static final Measure<SaltPerDistance> SALT_PER_DISTANCE =
            Measure.<SaltPerDistance>none()
                    .or("tons_per_mile", SaltPerDistance::ofTonsPerMile)
                    .or("kg_per_km", SaltPerDistance::new);

    private final List<Ending<T>> endings;

    private Measure(List<Ending<T>> endings) {
        this.endings = endings;
    }

    /** A measure without any unit yet. */
    static <T> Measure<T> none() {
        return new Measure<>(List.of());
    }

    /** The units, the customary one first. */
    List<Ending<T>> endings() {
        return endings;
    }

    /**
     * This measure, refusing what lies outside a range.
     *
     * @param range the range in words, as in {@code from 0 to 100 %}
     * @param inside whether a quantity lies in it
     */
    public Measure<T> within(String range, Predicate<T> inside) {
        List<Ending<T>> bounded = new ArrayList<>();
        for (Ending<T> ending : endings) {
            bounded.add(
                    new Ending<>(
                            ending.suffix,
                            number -> {
                                T made = ending.maker.apply(number);
                                if (!inside.test(made)) {
                                    throw new IllegalArgumentException("it must be " + range);
                                }
                                return made;
                            }));
        }
        return new Measure<>(List.copyOf(bounded));
    }

    /**
     * This measure with a further unit that is known to one place only, such as one that needs a
     * second key.
     */
    Measure<T> or(String suffix, DoubleFunction<T> maker) {
        List<Ending<T>> more = new ArrayList<>(endings);
        more.add(new Ending<>(suffix, number -> maker.apply(number.doubleValue())));
        return new Measure<>(List.copyOf(more));
    }

    private interface OfVolumeUnit<T> {
        T make(double number, VolumeUnit unit);
    }

    private static <T> Measure<T> volumes(String after, OfVolumeUnit<T> maker) {
        Measure<T> measure = none();
        for (VolumeUnit unit :
                List.of(VolumeUnit.US_GALLON, VolumeUnit.LITRE, VolumeUnit.IMPERIAL_GALLON)) {
            measure = measure.or(unit.suffix() + after, n -> maker.make(n, unit));
        }
        return measure;
    }

    private static Ending<Long> duration(String suffix, long nanos) {
        return new Ending<>(
                suffix,
                number -> {
                    BigDecimal whole = number.multiply(BigDecimal.valueOf(nanos));
                    if (whole.abs().compareTo(BigDecimal.valueOf(Long.MAX_VALUE)) > 0) {
                        throw new IllegalArgumentException(
                                "no time of a bay is so long; give it in "
                                        + suffix
                                        + ", and shorter");
                    }
                    try {
                        return whole.longValueExact();
                    } catch (ArithmeticException tooFine) {
                        throw new IllegalArgumentException(
                                "it is finer than the billionth of a second that is counted; give"
                                        + " fewer decimals");
                    }
                });
    }
}
