package catchbay.hardware.pwm;

import catchbay.port.PortException;
import catchbay.run.RunInput;
import catchbay.signal.PulseLine;

import java.io.IOException;

/**
 * Pulses that rise to their rate step by step, so that a conveyor does not start with a jerk, and
 * fall at once. For one thread at a time.
 */
final class PulseTrain {

    /** Between two steps of a rising rate. */
    static final long STEP_NANOS = 100_000_000;

    private final PulseLine line;
    private final PwmChannel channel;
    private final PulseDivider divider;
    private final long rampNanos;
    private double hertz;
    private double target;
    private double from;
    private long fromNanos;
    private long stepNanos;

    /**
     * @param line what the truck takes them for
     * @param rampNanos how long a rise takes; 0 = none, the rate is sent at once
     */
    PulseTrain(PulseLine line, PwmChannel channel, PulseDivider divider, long rampNanos) {
        this.line = line;
        this.channel = channel;
        this.divider = divider;
        this.rampNanos = rampNanos;
    }

    /**
     * Asks for a rate: nothing and a lower one are sent before this returns, a higher one is begun
     * with the next {@link #rise}.
     *
     * @param wanted pulses/s, >= 0
     * @param nowNanos what the run's clock shows
     * @return what is sent from now on
     * @throws PortException when the timer cannot make it or the kernel refuses
     */
    RunInput.PulsesSent ask(double wanted, long nowNanos) throws PortException {
        if (wanted > 0) {
            divider.period(wanted);
        }
        from = hertz;
        fromNanos = nowNanos;
        stepNanos = nowNanos;
        target = wanted;
        return wanted <= hertz || rampNanos == 0 ? send(wanted, nowNanos) : told(nowNanos);
    }

    /** Whether a step towards the rate asked for is due. */
    boolean mayRise(long nowNanos) {
        return target > from && hertz < target && nowNanos - stepNanos >= STEP_NANOS;
    }

    /**
     * One step towards the rate asked for.
     *
     * @return what is sent from now on
     * @throws PortException when the kernel refuses
     */
    RunInput.PulsesSent rise(long nowNanos) throws PortException {
        stepNanos = nowNanos;
        double share = (double) (nowNanos - fromNanos) / rampNanos;
        return send(share >= 1 ? target : from + (target - from) * share, nowNanos);
    }

    /**
     * No pulses.
     *
     * @throws PortException when the kernel refuses
     */
    void stop() throws PortException {
        target = 0;
        hertz = 0;
        try {
            channel.stop();
        } catch (IOException refusal) {
            throw refused(refusal);
        }
    }

    private RunInput.PulsesSent send(double next, long nowNanos) throws PortException {
        if (next == 0) {
            stop();
            return told(nowNanos);
        }
        PulseDivider.Period period = next == target ? divider.period(next) : divider.onTheWay(next);
        try {
            channel.send(period.nanos());
        } catch (IOException refusal) {
            throw refused(refusal);
        }
        hertz = next;
        return new RunInput.PulsesSent(nowNanos, line, period.hertz(), hertz < target);
    }

    /** The present rate, which no new period was set for. */
    private RunInput.PulsesSent told(long nowNanos) {
        double sent = hertz == 0 ? 0 : divider.onTheWay(hertz).hertz();
        return new RunInput.PulsesSent(nowNanos, line, sent, hertz < target);
    }

    private PortException refused(IOException refusal) {
        return new PortException(
                PortException.Kind.GONE,
                "The kernel does not take what is written to the pulse output "
                        + channel
                        + " ("
                        + refusal.getMessage()
                        + "); look whether it is there and who may write to it.",
                refusal);
    }
}
