package catchbay.sim;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Volume;
import catchbay.run.RunSetup;

import java.util.List;

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
        return drawn(seed, ScenarioDraw.Span.USUAL);
    }

    /** The same with catches as short as they may be. */
    public static Scenario drawnShort(long seed) {
        return drawn(seed, ScenarioDraw.Span.SHORT);
    }

    private static Scenario drawn(long seed, ScenarioDraw.Span span) {
        RunSetup setup = ScenarioDraw.setup(seed, span);
        return new Scenario("seed " + seed, setup, SimOptions.drawn(seed, setup));
    }

    /** This case with the faults that its seed draws, one to three of them. */
    public Scenario withFaults() {
        return withFaults(FaultDraw.FAULTS_MAX);
    }

    /** This case with the faults that its seed draws, as many as this at most. */
    public Scenario withFaults(int most) {
        return new Scenario(name, setup, options.with(FaultDraw.of(this, most)));
    }

    /** This case with a drain that takes so much. */
    public Scenario drainedBy(FlowRate drain) {
        return new Scenario(name, setup, options.with(options.bay().drainedBy(drain)));
    }

    /** This case with these faults. */
    public Scenario with(List<Fault> faults) {
        return new Scenario(name, setup, options.with(faults));
    }

    /** This case as another catch of the same bay, truck and people. */
    public Scenario with(RunSetup other) {
        return new Scenario(name, other, options);
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
