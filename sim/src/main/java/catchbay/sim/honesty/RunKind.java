package catchbay.sim.honesty;

import catchbay.run.RunSetup;
import catchbay.run.RunSetup.Application;
import catchbay.run.RunSetup.MeasureBy;
import catchbay.run.RunSetup.Window;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * What sort of whole run is drawn: the strata of that part of the study.
 *
 * @param window flying or standing
 * @param measureBy which instrument measures
 * @param salt how the asked amount is learned
 */
record RunKind(Window window, MeasureBy measureBy, Salt salt) {

    /** From what salt the liquid is asked for. */
    enum Salt {
        /** None: straight onto the road. */
        NONE,
        /** As its rate is set, times the road. */
        SET,
        /** As the feeder's pulses tell. */
        FEEDER,
        /** As the controller says at the end. */
        TYPED;

        /** Whether the bay learns how much there was. */
        boolean told() {
            return this == FEEDER || this == TYPED;
        }
    }

    /** All that there are; salt is typed at rest only. */
    static final List<RunKind> ALL = all();

    private static List<RunKind> all() {
        List<RunKind> all = new ArrayList<>();
        for (Window window : Window.values()) {
            for (MeasureBy measureBy : MeasureBy.values()) {
                for (Salt salt : Salt.values()) {
                    if (window == Window.STANDING || salt != Salt.TYPED) {
                        all.add(new RunKind(window, measureBy, salt));
                    }
                }
            }
        }
        return List.copyOf(all);
    }

    static RunKind of(RunSetup setup) {
        Salt salt =
                switch (setup.asked().application()) {
                    case Application.Direct _ -> Salt.NONE;
                    case Application.PreWet(_, _, boolean reported, var perPulse) ->
                            reported ? Salt.TYPED : perPulse.isPresent() ? Salt.FEEDER : Salt.SET;
                };
        return new RunKind(setup.plan().window(), setup.plan().measureBy(), salt);
    }

    String caught() {
        return (window + ", by " + measureBy).toLowerCase(Locale.ROOT);
    }

    String application() {
        return switch (salt) {
            case NONE -> "direct";
            case SET -> "pre-wet, salt as set";
            case FEEDER -> "pre-wet, feeder pulses";
            case TYPED -> "pre-wet, salt typed";
        };
    }
}
