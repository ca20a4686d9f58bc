package catchbay.hardware.gpiochip;

import catchbay.port.PortException;
import catchbay.port.PulseContract;
import catchbay.port.Source;
import catchbay.run.RunInput;
import catchbay.signal.PulseLine;

import java.util.List;
import java.util.function.Consumer;

/**
 * A tap without its thread, so that edges can come while nobody reads, and what makes its edges.
 */
final class TappedLine implements PulseContract.Driven, Source {

    /** Whatever drives the line. */
    interface Driver {
        void pulse(int count) throws Exception;

        void close() throws Exception;
    }

    private static final int HERTZ_MAX = 20_000;
    private static final int POLL_MILLIS = 50;

    private final LineRequest request;
    private final Driver driver;
    private final PulseTap tap;

    TappedLine(LineRequest request, Driver driver) {
        this.request = request;
        this.driver = driver;
        this.tap = new PulseTap(PulseLine.TRUCK, request, HERTZ_MAX);
    }

    @Override
    public Source source() {
        return this;
    }

    @Override
    public void edges(int count) throws Exception {
        driver.pulse(count);
    }

    @Override
    public void drain(Consumer<RunInput> into) throws PortException {
        int moved;
        do {
            moved = tap.move(POLL_MILLIS);
        } while (moved > 0);
        new PulseTaps(List.of(tap)).drain(into);
    }

    @Override
    public void close() {
        request.close();
        try {
            driver.close();
        } catch (Exception stuck) {
            throw new IllegalStateException(stuck);
        }
    }
}
