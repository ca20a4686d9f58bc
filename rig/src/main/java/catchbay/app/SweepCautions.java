package catchbay.app;

import catchbay.run.RunSetup;

import java.util.ArrayList;
import java.util.List;

/**
 * What is to be seen to before a sweep moves anything. Common practice, no source; the shop's own
 * rules come first.
 */
final class SweepCautions {

    private SweepCautions() {}

    /** In the order in which somebody walks round the truck. */
    static List<String> of(RunSetup setup) {
        List<String> cautions =
                new ArrayList<>(
                        List.of(
                                "The bay's stops, its emergency stop too, do not stop the truck's"
                                    + " engine, hydraulics, conveyor or spinner. An attendant stays"
                                    + " within reach of the truck's own stop until the end, as the"
                                    + " shop's rules require, and shows so when asked.",
                                "Stopping voids the catch under way; it is made again from its"
                                        + " beginning.",
                                "Eye protection and gloves are worn; the liquid's safety data sheet"
                                        + " is at hand, and the eye wash works.",
                                "The parking brake is set and the wheels are chocked.",
                                "Exhaust is led away, or the truck stands outdoors.",
                                "Hoses and couplers are rated for the pump's pressure, whole and"
                                    + " locked; the relief valve is fitted, and no running pump is"
                                    + " ever shut in.",
                                "Hydraulic oil and its lines are hot; guards are on. Nobody is near"
                                    + " conveyor, auger and spinner: they may turn at any time.",
                                "The body is down. Nobody goes under a raised body that is not"
                                        + " propped as its maker says.",
                                "The floor is wet: no trip hazards, and mains leads are off it,"
                                        + " behind a residual-current device.",
                                "Spill kit and drain cover are at hand; brine is contained, and"
                                        + " goes where local rules allow.",
                                "Recirculation and every other outlet of the truck are shut;"
                                        + " refilling and return valves are shut.",
                                "The shop's own safety rules, local codes and licensed practice"
                                        + " come before this list."));
        if (setup.asked().application() instanceof RunSetup.Application.PreWet) {
            cautions.add(
                    "The controller's granular channel is on, its gate is shut or the hopper is"
                            + " empty, and that is how the record tells it.");
        }
        return List.copyOf(cautions);
    }
}
