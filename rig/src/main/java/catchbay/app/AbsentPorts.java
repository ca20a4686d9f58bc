package catchbay.app;

import catchbay.port.Computer;
import catchbay.port.Outputs;
import catchbay.port.PortException;
import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.PortProvider;
import catchbay.port.PulseOutput;
import catchbay.port.Source;
import catchbay.port.Supervisor;
import catchbay.run.BayCommand;
import catchbay.run.BayCommand.Way;
import catchbay.run.BayComputer;
import catchbay.run.RunInput;

import java.util.function.Consumer;

/** What a bay does not have: sources that never say anything, and outputs that can only be safe. */
final class AbsentPorts {

    /** The name by which settings choose it. */
    static final String NAME = "none";

    private AbsentPorts() {}

    /** The absent port of a kind; there is always a clock and an operator, so not of those. */
    static PortProvider of(PortKind kind) {
        return new Absent(kind);
    }

    private record Absent(PortKind kind) implements PortProvider {
        @Override
        public String name() {
            return NAME;
        }

        @Override
        public boolean simulated() {
            return false;
        }

        @Override
        public Object open(PortOpening opening) {
            return switch (kind) {
                case OUTPUTS -> new NoOutputs();
                case PULSE_OUTPUT -> new NoPulses();
                case COMPUTER -> new NoComputer();
                case SUPERVISOR -> new NoSupervisor();
                case CONTACTS, PULSES, SCALE, CONTROLLER, TEMPERATURE, PRESSURE -> new NoSource();
                case TIME, OPERATOR ->
                        throw new IllegalStateException("there is always a " + kind.key());
            };
        }
    }

    private static final class NoComputer implements Computer {
        @Override
        public BayComputer state() {
            return BayComputer.UNKNOWN;
        }

        @Override
        public void close() {
            // Nothing is held.
        }
    }

    private static final class NoSupervisor implements Supervisor {
        @Override
        public void turn(String status) {
            // Nobody wants to know.
        }

        @Override
        public boolean isTold() {
            return false;
        }

        @Override
        public void idle() {
            // Nor this.
        }

        @Override
        public void close() {
            // Nothing is held.
        }
    }

    private static final class NoSource implements Source {
        @Override
        public void drain(Consumer<RunInput> into) {
            // Nothing is connected, so nothing is ever said.
        }

        @Override
        public void close() {
            // Nothing is held.
        }
    }

    private static final class NoPulses implements PulseOutput {
        @Override
        public void perform(BayCommand.Pulses command) throws PortException {
            if (command.hertz() > 0) {
                throw new PortException(
                        PortException.Kind.MISSING,
                        "This bay has no pulse output set, so it cannot do what the catch needs ("
                                + command
                                + "); set port.pulse_output, or a catch whose flow the operator"
                                + " starts and stops.");
            }
        }

        @Override
        public void drain(Consumer<RunInput> into) {
            // Nothing is sent, so nothing is told of it.
        }

        @Override
        public boolean makeSafe() {
            // What is not driven is as safe as it was.
            return true;
        }

        @Override
        public void close() {
            // Nothing is held.
        }
    }

    private static final class NoOutputs implements Outputs {
        @Override
        public void perform(BayCommand.Switched command) throws PortException {
            boolean safe =
                    switch (command) {
                        case BayCommand.Divert(Way way) -> way == Way.BYPASS;
                        case BayCommand.Drain(boolean open) -> !open;
                        case BayCommand.Supply(boolean on) -> !on;
                    };
            if (!safe) {
                throw new PortException(
                        PortException.Kind.MISSING,
                        "This bay has no outputs set, so it cannot do what the catch needs ("
                                + command
                                + "); set port.outputs, or a catch whose flow the operator starts"
                                + " and stops.");
            }
        }

        @Override
        public void turn() {
            // Nothing watches this program.
        }

        @Override
        public void makeSafe() {
            // What is not driven is as safe as it was.
        }

        @Override
        public void letGo() {
            // There is no watchdog relay.
        }

        @Override
        public void close() {
            // Nothing is held.
        }
    }
}
