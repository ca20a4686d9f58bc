package catchbay.quantity;

/**
 * A flow meter's pulses for one litre (its K-factor).
 *
 * @param pulsesPerLitre pulses/L, finite and > 0
 */
public record PulseConstant(double pulsesPerLitre) {

    public PulseConstant {
        Finite.aboveZero("pulse constant", pulsesPerLitre, "pulses/L");
    }

    /** A constant of so many pulses for one of the volume unit. */
    public static PulseConstant per(double pulses, VolumeUnit unit) {
        return new PulseConstant(
                Finite.aboveZero("pulse constant", pulses, "pulses/" + unit.symbol())
                        / unit.litres());
    }

    /** This constant in pulses for one of the volume unit. */
    public double per(VolumeUnit unit) {
        return pulsesPerLitre * unit.litres();
    }

    /** The volume that so many pulses (>= 0, may be fractional) stand for. */
    public Volume volumeOf(double pulses) {
        return new Volume(pulses / pulsesPerLitre);
    }
}
