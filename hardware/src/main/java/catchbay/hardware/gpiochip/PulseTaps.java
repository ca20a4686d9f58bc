package catchbay.hardware.gpiochip;

import catchbay.port.PortException;
import catchbay.port.Source;
import catchbay.run.RunInput;

import java.util.List;
import java.util.function.Consumer;

/** All pulse lines of a bay, drained in the order of {@link catchbay.signal.PulseLine}. */
record PulseTaps(List<PulseTap> taps) implements Source {

    @Override
    public void drain(Consumer<RunInput> into) throws PortException {
        for (PulseTap tap : taps) {
            tap.drain(into);
        }
    }

    @Override
    public void close() {
        taps.forEach(PulseTap::close);
    }
}
