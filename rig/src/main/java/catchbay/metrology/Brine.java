package catchbay.metrology;

import catchbay.quantity.Density;
import catchbay.quantity.MassFraction;
import catchbay.quantity.Ratio;
import catchbay.quantity.Temperature;

import java.util.Arrays;
import java.util.stream.Collectors;

/**
 * A salt whose brine has a published density by strength and temperature, with what is known of how
 * far that can be trusted.
 *
 * <p>The expanded uncertainties (k = 2, normal) are the largest spreads found between the model and
 * independent tables: Melinder 2010 (as stored by CoolProp), Al Ghafri et al., J. Chem. Eng. Data
 * 57 (2012) 1288, Krumgalz et al., J. Phys. Chem. Ref. Data 25 (1996) 663, and Simion 2015. They
 * hold from -10 to 40 degrees Celsius, and nothing is computed outside of these. {@code
 * src/docs/method.md}, Liquids, has the table.
 */
public enum Brine {
    /** Sodium chloride, rock salt. */
    NACL(
            "nacl",
            "sodium chloride brine",
            new BrineModel(
                    -0.00324112223655149,
                    0.0636354335906616,
                    1.01371399467365,
                    0.0145951015210159,
                    3317.34854426537),
            new Range(0, 140, 0, 0.233, 0.26),
            new Spread(0.0006, 0.0015, 0.00004, 0.00012),
            new IceCurve(
                    0.115,
                    0,
                    0.23,
                    0.233,
                    -21.1,
                    5.581298,
                    -0.3093872,
                    -0.7860622,
                    -2.439942,
                    -1.099997,
                    -2.256166),
            new Clear(0.233, -21.1, 0.262, 0.1)),
    /** Calcium chloride. */
    CACL2(
            "cacl2",
            "calcium chloride brine",
            new BrineModel(
                    -9.72893747074295,
                    14.7005352975276,
                    4.19033341468332,
                    0.0397403624277021,
                    2708.12778894614),
            new Range(15, 126.7, 0.20, 0.30, 0.35),
            new Spread(0.0015, 0.0045, 0.00007, 0.00021),
            new IceCurve(
                    0.192,
                    0.09,
                    0.294,
                    0.298,
                    -51,
                    5.545838,
                    -0.6342563,
                    -2.183514,
                    -9.175102,
                    -113.935,
                    -575.0079),
            new Clear(0.32, -10, 0.35, 0)),
    /** Magnesium chloride. */
    MGCL2(
            "mgcl2",
            "magnesium chloride brine",
            new BrineModel(
                    -0.0215001423271867,
                    0.0441202083909434,
                    1.53227586827304,
                    -0.0098078506056196,
                    -3478.36496883693),
            new Range(0, 98.67, 0.15, 0.30, 0.32),
            new Spread(0.0025, 0.005, 0.00018, 0.00033),
            new IceCurve(
                    0.1025, 0, 0.205, 0.216, -33, 5.577747, -0.525528, -2.59446, -7.416437,
                    12.12678, 324.5001),
            new Clear(0.30, -10, 0.32, 0)),
    /** Potassium acetate. */
    POTASSIUM_ACETATE(
            "potassium-acetate",
            "potassium acetate brine",
            new BrineModel(
                    -12939.1226122242,
                    69601.6517946745,
                    116.599325442767,
                    0.382632586300714,
                    1096.8090489007),
            new Range(15, 55, 0.30, 0.40, 0.50),
            new Spread(0.001, 0.005, 0.00008, 0.00025),
            new IceCurve(
                    0.26,
                    0.11,
                    0.41,
                    0.49,
                    -60,
                    5.544472,
                    -0.5030381,
                    -1.738208,
                    1.078158,
                    10.9068,
                    -116.0421),
            new Clear(0.49, -10, 0.50, -10));

    /** No density is given below: the spreads were found down to here. */
    public static final Temperature COLDEST = new Temperature(-10);

    /**
     * No density is given above: no liquid in a bay is warmer, but Fahrenheit typed for Celsius.
     */
    public static final Temperature WARMEST = new Temperature(40);

    /**
     * @param celsiusMin the lowest temperature of the data fitted
     * @param celsiusMax the highest
     * @param checkedMin the lowest mass fraction at which the inside spread was found
     * @param checkedMax the highest
     * @param strongest the highest mass fraction taken: within the model's, and still all dissolved
     */
    private record Range(
            double celsiusMin,
            double celsiusMax,
            double checkedMin,
            double checkedMax,
            double strongest) {}

    /**
     * Relative expanded uncertainties, k = 2.
     *
     * @param inside of the density, inside the fitted temperatures and the checked strengths
     * @param outside of the density, on one side outside of them
     * @param slopeInside of the change of density with temperature, per degree Celsius: the largest
     *     difference between the model and Melinder's tables over 5 degrees
     * @param slopeOutside the same below the fitted temperatures
     */
    private record Spread(double inside, double outside, double slopeInside, double slopeOutside) {}

    /**
     * From where a brine stronger than the eutectic is surely clear of crystals: constant up to one
     * strength, from there a straight line to another. What comes out of NaCl brine is the
     * dihydrate, which melts at 0.1 degrees (Archer, J. Phys. Chem. Ref. Data 21 (1992) 793, the
     * figure from memory) where 26.2 % stay dissolved; the true curve bends below the line to it.
     * The bounds of the other salts are well inside the solubility of their hydrates (handbooks,
     * from memory: 32 % of CaCl2 to about -27, 30 % of MgCl2 to about -16 degrees).
     *
     * @param weak up to this mass fraction it is clear down to {@code weakCelsius}
     * @param weakCelsius see there
     * @param strong the mass fraction at which the line ends
     * @param strongCelsius it is clear down to here there
     */
    private record Clear(double weak, double weakCelsius, double strong, double strongCelsius) {
        Temperature from(double w) {
            double along = Math.clamp((w - weak) / (strong - weak), 0, 1);
            return new Temperature(weakCelsius + along * (strongCelsius - weakCelsius));
        }
    }

    private final String key;
    private final String words;
    private final BrineModel model;
    private final Range range;
    private final Spread spread;
    private final IceCurve ice;
    private final Clear clear;

    Brine(
            String key,
            String words,
            BrineModel model,
            Range range,
            Spread spread,
            IceCurve ice,
            Clear clear) {
        this.key = key;
        this.words = words;
        this.model = model;
        this.range = range;
        this.spread = spread;
        this.ice = ice;
        this.clear = clear;
    }

    /** How settings and commands call it. */
    public String key() {
        return key;
    }

    /** How a sentence calls it. */
    public String words() {
        return words;
    }

    /** The brine called so; fails with a sentence that lists the known ones. */
    public static Brine ofKey(String key) {
        for (Brine brine : values()) {
            if (brine.key.equals(key)) {
                return brine;
            }
        }
        throw new IllegalArgumentException(
                "unknown brine '" + key + "'; the known ones are " + keys());
    }

    /** The keys of all brines, as a sentence lists them. */
    static String keys() {
        return Arrays.stream(values()).map(Brine::key).collect(Collectors.joining(", "));
    }

    /** Where ice or crystals begin. */
    public SolidPoint solidPoint(MassFraction strength) {
        if (strength.value() <= ice.eutectic()) {
            return ice.at(strength);
        }
        return new SolidPoint.Crystals(clear.from(strength.value()));
    }

    /**
     * The strength at which the brine freezes last. Source: FHWA-RD-95-202 (June 1996), Appendix A.
     */
    public MassFraction eutecticStrength() {
        return new MassFraction(ice.eutectic());
    }

    /**
     * The lowest freezing point, that of the eutectic strength. Source: FHWA-RD-95-202, Appendix A;
     * for NaCl to a tenth of a degree from the CRC Handbook.
     */
    public Temperature eutecticTemperature() {
        return new Temperature(ice.eutecticCelsius());
    }

    /** The highest strength of which a density is computed. */
    public MassFraction strongest() {
        return new MassFraction(range.strongest);
    }

    /** The density that the published coefficients give, whether or not they may be used there. */
    Density density(MassFraction strength, Temperature at) {
        return new Density(model.density(strength.value(), at.celsius()));
    }

    /** kg/m3 per degree Celsius. */
    double perCelsius(MassFraction strength, Temperature at) {
        return model.perCelsius(strength.value(), at.celsius());
    }

    /** kg/m3 for a mass fraction of one. */
    double perFraction(MassFraction strength, Temperature at) {
        return model.perFraction(strength.value(), at.celsius());
    }

    /** The strength that has this density, as a plain number: below 0 where none has. */
    double fractionOf(Density density, Temperature at) {
        return model.fraction(density.kilogramsPerCubicMetre(), at.celsius());
    }

    boolean fitted(Temperature at) {
        return at.celsius() >= range.celsiusMin && at.celsius() <= range.celsiusMax;
    }

    boolean checked(MassFraction strength) {
        return strength.value() >= range.checkedMin && strength.value() <= range.checkedMax;
    }

    /**
     * Relative expanded uncertainty of a computed density, k = 2. Outside of both the fitted
     * temperatures and the checked strengths the outside one counts twice, as independent.
     */
    Ratio modelExpanded(MassFraction strength, Temperature at) {
        if (fitted(at) && checked(strength)) {
            return new Ratio(spread.inside);
        }
        boolean both = !fitted(at) && !checked(strength);
        return new Ratio(both ? Math.sqrt(2) * spread.outside : spread.outside);
    }

    /**
     * Relative expanded uncertainty of the change of density between two temperatures, per degree,
     * k = 2.
     */
    double slopeExpandedPerCelsius(Temperature from, Temperature to) {
        return fitted(from) && fitted(to) ? spread.slopeInside : spread.slopeOutside;
    }
}
