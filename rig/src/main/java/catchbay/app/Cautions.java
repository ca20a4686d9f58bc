package catchbay.app;

import catchbay.plan.TestPlan;
import catchbay.quantity.Numeral;
import catchbay.run.RangeEnd;
import catchbay.run.RunSetup;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * What is to be seen to before anything moves, one list for each kind of work at the bay: a person
 * is shown it once, and what was shown is what is recorded. Common practice, no source; the shop's
 * own rules come first.
 */
final class Cautions {

    /** Stands in the help of what moves a truck, and on the page of what runs by itself. */
    static final String OF_THE_BAYS_STOPS =
            "The bay's stops do not stop the truck's engine, hydraulics, conveyor or spinner.";

    private static final String RULES =
            "The shop's own safety rules, local codes and licensed practice come before this list.";

    private static final String EYES =
            "Eye protection and gloves are worn; the liquid's safety data sheet is at hand, and the"
                    + " eye wash works.";

    private static final String MOVING =
            "Diverter, drain and supply will move by themselves: hands, tools and hoses are clear"
                    + " of them.";

    private static final String FLOOR =
            "The floor is wet: no trip hazards, and mains leads are off it, behind a"
                    + " residual-current device.";

    private static final String SPILL =
            "Spill kit and drain cover are at hand; brine is contained, and goes where local rules"
                    + " allow.";

    private static final String EMERGENCY_STOP =
            "Somebody stays within reach of the emergency stop until the end.";

    private Cautions() {}

    /** Of a catch, whose question names the truck's outlets itself. */
    static List<String> ofCatch(RunSetup setup) {
        List<String> cautions = new ArrayList<>();
        cautions.add(RULES);
        cautions.add(truckStop("as the shop's rules require."));
        cautions.addAll(atTruck(setup, Optional.empty()));
        moving(setup).ifPresent(cautions::add);
        cautions.add("The catch tank has room for this catch, and its drain is shut.");
        return List.copyOf(cautions);
    }

    /**
     * Of a sweep.
     *
     * @param granular how its plan writes down the truck's granular side
     * @param own what the shop wants seen to besides
     */
    static List<String> ofSweep(
            RunSetup setup, Optional<TestPlan.Granular> granular, List<String> own) {
        List<String> ofWork =
                List.of(
                        "The controller is set to " + rates(setup.asked().application()) + ".",
                        "Stopping voids the catch under way; it is made again from its beginning"
                                + " when the sweep goes on.");
        return ofTruckAttended(setup, granular, ofWork, own);
    }

    /**
     * What the controller must be set to: a flow is asked for by the speed alone, whether the bay
     * sends it or a person sets it.
     */
    static String rates(RunSetup.Application application) {
        return switch (application) {
            case RunSetup.Application.Direct direct ->
                    figure(direct.rate().usGallonsPerLaneMile())
                            + " US gal a lane-mile over "
                            + figure(direct.lanes())
                            + (direct.lanes() == 1 ? " lane" : " lanes");
            case RunSetup.Application.PreWet wet ->
                    figure(wet.rate().usGallonsPerTon())
                            + " US gal a ton of salt, and to "
                            + figure(wet.salt().poundsPerMile())
                            + " lb of salt a mile, all lanes together";
        };
    }

    private static String figure(double number) {
        return Numeral.of(BigDecimal.valueOf(number), 4);
    }

    /** Of a hunt for an end of a truck's range; as {@link #ofSweep}. */
    static List<String> ofHunt(RangeEnd end, RunSetup setup, List<String> own) {
        List<String> ofEnd =
                switch (end) {
                    case LOW ->
                            List.of(
                                    "The controller is in its manual mode, or its liquid valve is"
                                        + " set by hand: in its automatic mode it opens the valve"
                                        + " fully as soon as its meter is silent, and here the"
                                        + " meter will be silent.",
                                    "The valve is shut now, and is opened slowly, a little at a"
                                            + " time; whoever does it can shut it at once.");
                    case HIGH ->
                            List.of(
                                    "More and more is asked of pump and hydraulics, up to what they"
                                        + " give: oil is warm, the engine runs at its working"
                                        + " speed, and the path to the bypass takes all that the"
                                        + " pump can give.");
                };
        return ofTruckAttended(setup, Optional.empty(), ofEnd, own);
    }

    /** Of a test of the bay with the liquid of a truck; as {@link #ofSweep}. */
    static List<String> ofTestByTruck(RunSetup setup, List<String> own) {
        return ofTruckAttended(setup, Optional.empty(), List.of(), own);
    }

    /** Of a test of the bay with the liquid of its own supply: no truck is there. */
    static List<String> ofTestBySupply() {
        return List.of(
                RULES,
                "No truck is coupled, or its valves are shut: only the bay's own supply feeds the"
                        + " bay.",
                EYES,
                "Hoses and couplers are rated for the supply's pressure, whole and locked; the way"
                        + " back to storage is open.",
                MOVING,
                FLOOR,
                SPILL,
                "Somebody stays within reach of the emergency stop and of the supply's own valve"
                        + " until the end, and shows so when asked.");
    }

    /** Of a watch for leaks: nothing flows and no speed is sent. */
    static List<String> ofLeakWatch() {
        return List.of(
                RULES,
                "There is liquid in the catch tank, about as much as in a catch.",
                "The bay's supply is off. A truck that stands here has its pump off, its parking"
                        + " brake set and its wheels chocked.",
                EYES,
                "Diverter, drain and supply are about to be shut: hands, tools and hoses are clear"
                        + " of them.",
                FLOOR,
                SPILL,
                "Nobody touches tank, hoses and scale until the watch is over.",
                EMERGENCY_STOP);
    }

    /** Of a checkup of the bay. */
    static List<String> ofCheckup() {
        return List.of(
                RULES,
                "The truck's liquid pump is off, and nothing flows through the bay.",
                "The truck's speed and feeder plugs are off: its auger and spinner could turn.",
                EYES,
                MOVING,
                FLOOR,
                SPILL,
                EMERGENCY_STOP);
    }

    /**
     * @param granular how the truck's granular side is written down
     * @param ofWork what this kind of work asks for besides
     * @param own what the shop does
     */
    private static List<String> ofTruckAttended(
            RunSetup setup,
            Optional<TestPlan.Granular> granular,
            List<String> ofWork,
            List<String> own) {
        List<String> cautions = new ArrayList<>();
        cautions.add(RULES);
        cautions.add(truckStop("as the shop's rules require, and shows so when asked."));
        cautions.addAll(atTruck(setup, granular));
        moving(setup).ifPresent(cautions::add);
        cautions.add(
                "Recirculation and every other outlet of the truck are shut; refilling and return"
                        + " valves are shut.");
        cautions.addAll(ofWork);
        cautions.addAll(own);
        return List.copyOf(cautions);
    }

    private static Optional<String> moving(RunSetup setup) {
        boolean moves =
                setup.diverter().isPresent()
                        || setup.plan().drainNanos() > 0
                        || setup.plan().flowBy() == RunSetup.FlowBy.SUPPLY;
        return moves ? Optional.of(MOVING) : Optional.empty();
    }

    private static String truckStop(String asRequired) {
        return "The bay's stops, its emergency stop too, do not stop the truck's engine,"
                + " hydraulics, conveyor or spinner. An attendant stays within reach of the"
                + " truck's own stop until the end, "
                + asRequired;
    }

    /** In the order in which somebody walks round the truck. */
    private static List<String> atTruck(RunSetup setup, Optional<TestPlan.Granular> granular) {
        List<String> cautions =
                new ArrayList<>(
                        List.of(
                                EYES,
                                "The parking brake is set and the wheels are chocked.",
                                "Exhaust is led away, or the truck stands outdoors.",
                                "Hoses and couplers are rated for the pump's pressure, whole and"
                                    + " locked, and hang free of the catch tank; the relief valve"
                                    + " is fitted, and no running pump is ever shut in.",
                                "Hydraulic oil and its lines are hot; guards are on. Nobody is near"
                                    + " conveyor, auger and spinner: they may turn at any time.",
                                "The body is down. Nobody goes under a raised body that is not"
                                        + " propped as its maker says.",
                                FLOOR,
                                SPILL));
        if (setup.asked().application() instanceof RunSetup.Application.PreWet) {
            cautions.add(granular(granular));
        }
        return cautions;
    }

    /** Nobody is to confirm a shut gate of a truck whose plan has it open. */
    private static String granular(Optional<TestPlan.Granular> granular) {
        String on = "The controller's granular channel is on";
        List<String> parts = new ArrayList<>();
        granular.flatMap(TestPlan.Granular::gate).ifPresent(gate -> parts.add("gate " + gate));
        granular.flatMap(TestPlan.Granular::hopper)
                .ifPresent(hopper -> parts.add("hopper " + hopper));
        if (parts.isEmpty()) {
            return on
                    + ", its gate is shut or the hopper is empty, and that is how the record tells"
                    + " it.";
        }
        String written =
                on
                        + ", and the truck stands as the plan writes it down: "
                        + String.join(", ", parts)
                        + ".";
        return granular.orElseThrow().holdsBack()
                ? written
                : written
                        + " Salt may come down at every catch: it is caught or contained, and"
                        + " everybody stays clear of conveyor and spinner, as the shop's rules"
                        + " say.";
    }
}
