package catchbay.sim;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Volume;
import catchbay.run.RunSetup;

/**
 * A whole invented case: what the program knows, and the truth behind it.
 *
 * @param name what it is, in words
 * @param setup what the program knows
 * @param options the truth behind it
 */
public record Scenario(String name, RunSetup setup, SimOptions options) {

    /** A case drawn whole from a seed, without a fault. */
    public static Scenario drawn(long seed) {
        RunSetup setup = ScenarioDraw.setup(seed);
        return new Scenario("seed " + seed, setup, SimOptions.drawn(seed, setup));
    }

    /** This case with the faults that its seed draws. */
    public Scenario withFaults() {
        return new Scenario(name, setup, options.with(FaultDraw.of(this)));
    }

    static long seconds(double seconds) {
        return (long) (seconds * 1e9);
    }

    /** The amount that the setup asks for over its planned catch, at the speed that is set. */
    public Volume planned() {
        double litresPerSecond = TruckSystem.flowAsked(setup.asked());
        return new FlowRate(litresPerSecond).during(setup.plan().catchNanos());
    }
}
