package catchbay.app;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Ratio;
import catchbay.record.DocumentException;
import catchbay.record.SelfTestRules;
import catchbay.run.RunSetup;
import catchbay.run.RunSetup.Application;
import catchbay.run.SetupCheck;

import java.util.List;
import java.util.Optional;

/**
 * Where the liquid of a test of the bay comes from: the bay's own supply, or a truck.
 *
 * @param truck the truck; empty = the bay's own supply
 */
record TestFlow(Optional<String> truck) {

    /** How records say it. */
    String words() {
        return truck.map(number -> "truck " + number).orElse("the bay's own supply");
    }

    /** The truck by whose settings a catch is described. */
    Optional<String> asset(Settings settings) {
        if (truck.isEmpty() && settings.trucks().contains(RunSetup.Truck.BAY_SUPPLY)) {
            throw new DocumentException(
                    settings.name()
                            + " has a truck called "
                            + RunSetup.Truck.BAY_SUPPLY
                            + ", which is how the bay's own supply is recorded; call it otherwise");
        }
        return truck.or(settings::anyTruck);
    }

    /**
     * Has catches ask for this flow, by the speed at which the set rate gives it.
     *
     * @param option by which it was asked for
     */
    void ask(Settings settings, String option, FlowRate flow) {
        RunSetup.Asked asked = settings.anyMeter(asset(settings)).asked();
        double usual = SetupCheck.askedFlow(asked).litresPerSecond();
        if (usual == 0) {
            throw new DocumentException(
                    "option "
                            + option
                            + ": the settings ask for no flow whatever the speed; set asked.rate");
        }
        settings.override(
                option,
                Settings.SPEED,
                asked.speed().milesPerHour() * flow.litresPerSecond() / usual);
    }

    /** A catch's setup as that of a run of a test. */
    RunSetup setup(RunSetup today, SelfTestRules rules, RunSetup.MeasureBy by) {
        RunSetup.Plan plan = today.plan();
        RunSetup.Asked asked = today.asked();
        boolean ofTruck = truck.isPresent();
        RunSetup.Truck source = today.truck();
        return today.ofBayItself(
                ofTruck
                        ? source
                        : new RunSetup.Truck(
                                RunSetup.Truck.BAY_SUPPLY,
                                source.constant(),
                                source.control(),
                                source.debounceNanos(),
                                source.speedSource()),
                new RunSetup.Asked(
                        saltUntold(asked.application()),
                        asked.speed(),
                        ofTruck ? asked.pulsesPerMile() : Optional.empty(),
                        ofTruck && asked.sendsFeeder()),
                plan.with(ofTruck ? plan.flowBy() : rules.supply(), by, plan.crossCheckMax()));
    }

    /** The same, for a test in which nothing flows. */
    RunSetup still(RunSetup today) {
        return today.ofBayItself(today.truck(), today.asked(), today.plan());
    }

    /** So far instruments may be apart without making a catch void: it is what is looked for. */
    private static final Ratio APART = Ratio.ofPercent(20);

    /** The same, of instruments that may disagree. */
    RunSetup apart(RunSetup tried) {
        RunSetup.Plan plan = tried.plan();
        return tried.with(
                tried.asked(),
                plan.with(plan.flowBy(), plan.measureBy(), APART),
                tried.judgement());
    }

    private static Application saltUntold(Application application) {
        return switch (application) {
            case Application.Direct direct -> direct;
            case Application.PreWet wet ->
                    new Application.PreWet(wet.rate(), wet.salt(), false, wet.saltPerFeederPulse());
        };
    }

    /**
     * What is to be seen to before anything moves.
     *
     * @param own what the shop wants seen to besides, where a truck is there
     */
    List<String> cautions(RunSetup setup, List<String> own) {
        return truck.isPresent() ? Cautions.ofTestByTruck(setup, own) : Cautions.ofTestBySupply();
    }
}
