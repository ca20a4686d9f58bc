package catchbay.run;

import catchbay.quantity.Mass;
import catchbay.signal.MassSteadiness;
import catchbay.signal.PressureSense;
import catchbay.signal.RunningTotal;
import catchbay.signal.ScaleFrame;
import catchbay.signal.Tally;

import java.util.Optional;
import java.util.Set;

/**
 * What a run knows of the bay, whatever state it is in. Constant-size.
 *
 * @param setup everything known before
 * @param lines the pulse lines
 * @param scale the scale
 * @param total the controller's running total
 * @param thermometers how warm it is
 * @param coupler the pressure at the coupler
 * @param active the contacts that are active
 * @param ledger what has been written down for the comparison
 * @param vigil what the interlocks remember
 */
public record Sensed(
        RunSetup setup,
        Lines lines,
        ScaleSense scale,
        RunningTotal total,
        Thermometers thermometers,
        PressureSense coupler,
        Set<BayContact> active,
        Ledger ledger,
        Vigil vigil) {

    /** What inputs call the scale's line. */
    static final String SCALE = "scale";

    /**
     * The scale as heard so far.
     *
     * @param rest whether it has come to rest
     * @param last the last weight, at rest or not; empty before any
     * @param lastButOne the weight before that
     * @param lastNanos when the last weight came; {@link Tally#NONE} before any
     * @param net whether the scale subtracts a tare itself, as first heard
     * @param hindrance why what came since then was no weight; empty when nothing came
     */
    public record ScaleSense(
            MassSteadiness rest,
            Optional<Mass> last,
            Optional<Mass> lastButOne,
            long lastNanos,
            Optional<Boolean> net,
            String hindrance) {

        ScaleSense take(long atNanos, ScaleFrame.Weight weight) {
            return new ScaleSense(
                    rest.take(atNanos, weight),
                    Optional.of(weight.mass()),
                    last,
                    atNanos,
                    Optional.of(net.orElse(weight.net())),
                    "");
        }

        /** Rest is to be proven anew from here on. */
        ScaleSense restarted() {
            return new ScaleSense(rest.restarted(), last, lastButOne, lastNanos, net, hindrance);
        }

        /** Something came that is no weight. */
        ScaleSense unread(String reason) {
            return new ScaleSense(rest, last, lastButOne, lastNanos, net, reason);
        }
    }

    static Sensed starting(RunSetup setup) {
        double band = setup.scale().map(s -> s.restBand().kilograms()).orElse(1.0);
        return new Sensed(
                setup,
                Lines.starting(setup),
                new ScaleSense(
                        MassSteadiness.starting(band),
                        Optional.empty(),
                        Optional.empty(),
                        Tally.NONE,
                        Optional.empty(),
                        ""),
                RunningTotal.starting(),
                Thermometers.starting(setup.doubts().temperatures().sensors()),
                PressureSense.SILENT,
                Set.of(),
                Ledger.EMPTY,
                Vigil.ASLEEP);
    }

    /** The course of the catch. */
    public RunSetup.Plan plan() {
        return setup.plan();
    }

    /**
     * When an attendant last showed to be there; {@link Ledger#NONE} where nobody is to, or before.
     */
    public long presentNanos() {
        return vigil.presentNanos();
    }

    boolean isActive(BayContact contact) {
        return active.contains(contact);
    }

    /** Whether the scale has been at rest for as long as it must; true where there is no scale. */
    boolean scaleAtRest() {
        return setup.scale().map(s -> scale.rest().isAtRestFor(s.restNanos())).orElse(true);
    }

    /** The scale's reading at rest; empty where there is no scale. */
    Optional<Mass> reading() {
        return setup.scale().map(s -> scale.rest().mean());
    }

    Sensed with(Lines other) {
        return new Sensed(setup, other, scale, total, thermometers, coupler, active, ledger, vigil);
    }

    Sensed with(ScaleSense other) {
        return new Sensed(setup, lines, other, total, thermometers, coupler, active, ledger, vigil);
    }

    Sensed with(RunningTotal other) {
        return new Sensed(setup, lines, scale, other, thermometers, coupler, active, ledger, vigil);
    }

    Sensed with(Set<BayContact> other) {
        return new Sensed(setup, lines, scale, total, thermometers, coupler, other, ledger, vigil);
    }

    Sensed with(Ledger other) {
        return new Sensed(setup, lines, scale, total, thermometers, coupler, active, other, vigil);
    }

    Sensed with(Thermometers other) {
        return new Sensed(setup, lines, scale, total, other, coupler, active, ledger, vigil);
    }

    Sensed with(PressureSense other) {
        return new Sensed(setup, lines, scale, total, thermometers, other, active, ledger, vigil);
    }

    Sensed with(RunSetup other) {
        return new Sensed(other, lines, scale, total, thermometers, coupler, active, ledger, vigil);
    }

    Sensed with(Vigil other) {
        return new Sensed(setup, lines, scale, total, thermometers, coupler, active, ledger, other);
    }
}
