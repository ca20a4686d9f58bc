package catchbay.hardware.relay;

import com.pi4j.io.gpio.digital.DigitalInput;
import com.pi4j.io.gpio.digital.DigitalState;
import com.pi4j.io.gpio.digital.DigitalStateChangeEvent;

/** A change of an input's level, with the stamp that the kernel gave it. */
final class StampedChange extends DigitalStateChangeEvent<DigitalInput> {

    private final long stampNanos;

    StampedChange(DigitalInput source, DigitalState level, long stampNanos) {
        super(source, level);
        this.stampNanos = stampNanos;
    }

    /** When it came, ns of the monotonic clock. */
    long stampNanos() {
        return stampNanos;
    }
}
