package catchbay.app;

import catchbay.port.PortException;
import catchbay.quantity.Mass;
import catchbay.run.Question;
import catchbay.run.RunInput;
import catchbay.run.RunSetup;
import catchbay.run.ScaleTask;
import catchbay.signal.MassSteadiness;
import catchbay.signal.ScaleFrame;

import java.util.Locale;
import java.util.Optional;

/**
 * Reads a scale at rest, by the rule of a catch, each time after a person has loaded it. Used for
 * one test, by one thread.
 */
final class ScaleReading {

    /** A reading that did not come about, for the reason given as a sentence. */
    static final class Ended extends Exception {
        private static final long serialVersionUID = 1;

        Ended(String reason) {
            super(reason);
        }
    }

    private final RunLoop.Ports ports;
    private final RunSetup.Scale scale;
    private final RunSetup.Plan plan;
    private MassSteadiness rest;
    private long lastNanos;
    private boolean loaded;
    private Optional<Boolean> net = Optional.empty();
    private String ended;
    private String hindrance = "";

    /**
     * @param ports with whatever may end it from outside among the sources
     * @param setup of the bay, with its scale
     */
    ScaleReading(RunLoop.Ports ports, RunSetup setup) {
        this.ports = ports;
        this.scale = setup.scale().orElseThrow();
        this.plan = setup.plan();
        this.rest = MassSteadiness.starting(scale.restBand().kilograms());
    }

    /** What the scale shows at rest once this is done. */
    Mass after(ScaleTask task) throws Ended {
        loaded = false;
        ports.operator().ask(task);
        await(this::isLoaded, plan.answerNanosMax(), "Nobody said that the scale is loaded");
        rest = rest.restarted();
        await(this::isAtRest, plan.restNanosMax(), "The scale did not come to rest");
        return rest.mean();
    }

    private boolean isLoaded() {
        return loaded;
    }

    private boolean isAtRest() {
        return rest.isAtRestFor(scale.restNanos());
    }

    private interface Condition {
        boolean holds();
    }

    private void await(Condition done, long nanosMax, String otherwise) throws Ended {
        long begun = ports.time().monotonicNanos();
        while (!done.holds()) {
            long now = ports.time().monotonicNanos();
            drain();
            if (ended == null && loaded && now - lastNanos > scale.silentNanosMax()) {
                ended =
                        String.format(
                                Locale.ROOT,
                                "The scale sent no weight for %.1f s%s. Check that its indicator is"
                                        + " on and sends as [port.scale] says (protocol, baud,"
                                        + " station), and its cable.",
                                (now - lastNanos) / 1e9,
                                hindrance.isEmpty() ? "" : " (" + hindrance + ")");
            }
            if (ended == null && now - begun > nanosMax) {
                ended =
                        String.format(
                                Locale.ROOT,
                                "%s within %.0f s. Look at the scale and begin again.",
                                otherwise,
                                nanosMax / 1e9);
            }
            if (ended != null) {
                throw new Ended(ended);
            }
            ports.time().sleepUntil(now + RunLoop.TURN_NANOS);
        }
    }

    private void drain() {
        try {
            ports.drain(this::take);
        } catch (PortException e) {
            ended = e.getMessage();
        }
    }

    private void take(RunInput input) {
        switch (input) {
            case RunInput.StopPressed pressed -> ended = "Ended by " + pressed.by() + ".";
            case RunInput.Done(long at, Question asked) when asked == Question.LOAD_SCALE -> {
                loaded = true;
                // While somebody lifts weights a scale may be out of its range and send none.
                lastNanos = at;
            }
            case RunInput.Scale(long at, ScaleFrame.Weight weight) -> {
                if (weight.unit() != scale.unit()) {
                    ended =
                            "The scale sends "
                                    + weight.unit().symbol()
                                    + ", and scale.unit says "
                                    + scale.unit().symbol()
                                    + ". Set the indicator, or the settings.";
                } else if (net.isPresent() && net.get() != weight.net()) {
                    ended =
                            "The scale changed between gross and net during the test. Leave its"
                                    + " tare key alone and begin again.";
                } else {
                    net = Optional.of(weight.net());
                    rest = rest.take(at, weight);
                    lastNanos = at;
                    hindrance = "";
                }
            }
            case RunInput.Scale(long _, ScaleFrame.NoWeight none) -> {
                rest = rest.restarted();
                hindrance = none.reason();
            }
            default -> {
                // Nothing else concerns a scale.
            }
        }
    }
}
