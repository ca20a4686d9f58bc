package catchbay.run;

import java.util.ArrayList;
import java.util.List;

/**
 * A hunt as far as it has come.
 *
 * @param setup everything known before
 * @param run the bay as a run that lets liquid flow to the bypass sees it: so every interlock of a
 *     catch watches over a hunt as well
 * @param phase what it is doing
 * @param readings the steps so far
 */
public record HuntState(
        HuntSetup setup, RunState run, HuntPhase phase, List<HuntReading> readings) {

    public HuntState {
        readings = List.copyOf(readings);
    }

    HuntState with(RunState other) {
        return other == run ? this : new HuntState(setup, other, phase, readings);
    }

    HuntState with(Sensed sensed) {
        return with(RunMachine.with(run, sensed));
    }

    HuntState in(HuntPhase other) {
        return new HuntState(setup, run, other, readings);
    }

    HuntState and(HuntReading reading) {
        List<HuntReading> more = new ArrayList<>(readings);
        more.add(reading);
        return new HuntState(setup, run, phase, more);
    }

    Sensed sensed() {
        return run.sensed();
    }
}
