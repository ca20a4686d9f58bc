package catchbay.hardware.pwm;

import catchbay.hardware.clock.ProgramEnd;
import catchbay.port.PortException;
import catchbay.port.PulseOutput;
import catchbay.port.Timekeeper;
import catchbay.run.BayCommand;
import catchbay.run.RunInput;
import catchbay.signal.PulseLine;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;

/**
 * Speed and feeder pulses of the kernel's timers. A timer goes on without the program, so there are
 * no pulses from the moment this is made, after every run, after it is closed, and when the program
 * ends before that. May be used by any thread: the end of the program is one of its own.
 */
final class KernelPulses implements PulseOutput {

    private final Timekeeper time;
    private final Map<PulseLine, PulseTrain> trains;
    private final List<RunInput> untold = new ArrayList<>();
    private final ProgramEnd end = new ProgramEnd("pulses at the end", this::atEnd);
    private PortException trouble;

    /**
     * @param time the run's clock, which stamps what is told
     * @param trains those that have a channel
     */
    KernelPulses(Timekeeper time, Map<PulseLine, PulseTrain> trains) {
        this.time = time;
        this.trains = new EnumMap<>(trains);
    }

    /**
     * Ends what an earlier program may have left, and begins to look after the end of this one.
     *
     * @throws PortException when the kernel refuses
     */
    synchronized void start() throws PortException {
        makeSafe();
        if (trouble != null) {
            throw trouble;
        }
        end.watch();
    }

    @Override
    public synchronized void perform(BayCommand.Pulses command) throws PortException {
        PulseLine line =
                switch (command) {
                    case BayCommand.GroundSpeed _ -> PulseLine.SPEED;
                    case BayCommand.Feeder _ -> PulseLine.FEEDER;
                };
        PulseTrain train = trains.get(line);
        if (train == null) {
            refuseAbsent(line, command.hertz());
            return;
        }
        if (command.hertz() > 0 && trouble != null) {
            throw trouble;
        }
        try {
            untold.add(train.ask(command.hertz(), time.monotonicNanos()));
        } catch (PortException refusal) {
            makeSafe();
            throw refusal;
        }
    }

    /** What is not driven is as safe as it was. */
    private static void refuseAbsent(PulseLine line, double hertz) throws PortException {
        if (hertz > 0) {
            throw new PortException(
                    PortException.Kind.MISSING,
                    "No channel sends "
                            + line.key()
                            + " pulses; name "
                            + line.key()
                            + "_channel under [port.pulse_output].");
        }
    }

    @Override
    public synchronized void drain(Consumer<RunInput> into) throws PortException {
        try {
            for (PulseTrain train : trains.values()) {
                long now = time.monotonicNanos();
                if (train.mayRise(now)) {
                    untold.add(train.rise(now));
                }
            }
        } catch (PortException refusal) {
            makeSafe();
            throw refusal;
        }
        List<RunInput> told = List.copyOf(untold);
        untold.clear();
        told.forEach(into);
    }

    @Override
    public synchronized boolean makeSafe() {
        boolean still = true;
        for (PulseTrain train : trains.values()) {
            try {
                train.stop();
            } catch (PortException refusal) {
                trouble = refusal;
                still = false;
            }
        }
        // What was sent in one run is nothing to the next.
        untold.clear();
        return still;
    }

    @Override
    public void close() {
        makeSafe();
        end.closed();
    }

    private synchronized void atEnd() {
        makeSafe();
        trouble =
                new PortException(
                        PortException.Kind.GONE,
                        "The program is ending, and no more pulses are sent.");
    }

    /** The end of the program, for tests to bring about. */
    ProgramEnd end() {
        return end;
    }
}
