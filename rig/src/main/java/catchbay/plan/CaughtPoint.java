package catchbay.plan;

import catchbay.metrology.CurvePoint;
import catchbay.run.CatchResult;
import catchbay.run.RunSetup;

/** A catch as a point of its truck's curve. */
public final class CaughtPoint {

    private CaughtPoint() {}

    /**
     * The point of a catch.
     *
     * @param run the catch's name
     * @param setup of that catch
     * @param result what it gave; the controller must have reported something
     */
    public static CurvePoint of(String run, RunSetup setup, CatchResult result) {
        String instrument =
                switch (setup.plan().measureBy()) {
                    case REFERENCE -> setup.reference().orElseThrow().certificate().serial();
                    case SCALE -> setup.scale().orElseThrow().certificate().serial();
                };
        return CurvePoint.of(
                run,
                setup.day(),
                result.flow(),
                result.comparison(),
                setup.truck().constant(),
                instrument);
    }
}
