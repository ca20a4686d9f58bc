package catchbay.app;

import catchbay.run.RangeEnd;
import catchbay.run.RunSetup;

import java.util.ArrayList;
import java.util.List;

/**
 * What is to be seen to before a hunt for an end of a truck's range moves anything: what goes for a
 * sweep, and what goes for this alone. Common practice, no source; the shop's own rules come first.
 */
final class HuntCautions {

    private HuntCautions() {}

    static List<String> of(RangeEnd end, RunSetup setup) {
        List<String> cautions = new ArrayList<>(SweepCautions.of(setup));
        switch (end) {
            case LOW -> {
                cautions.add(
                        "The controller is in its manual mode, or its liquid valve is set by hand:"
                            + " in its automatic mode it opens the valve fully as soon as its meter"
                            + " is silent, and here the meter will be silent.");
                cautions.add(
                        "The valve is shut now, and is opened slowly, a little at a time; whoever"
                                + " does it can shut it at once.");
            }
            case HIGH ->
                    cautions.add(
                            "More and more is asked of pump and hydraulics, up to what they give:"
                                    + " oil is warm, the engine runs at its working speed, and the"
                                    + " path to the bypass takes all that the pump can give.");
        }
        return List.copyOf(cautions);
    }
}
