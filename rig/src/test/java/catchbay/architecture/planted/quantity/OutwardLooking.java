package catchbay.architecture.planted.quantity;

import catchbay.architecture.planted.run.Timed;

import java.nio.file.Path;
import java.util.concurrent.atomic.AtomicLong;

/** Planted: a pure inner room that looks outward, at files and at shared state. */
final class OutwardLooking {

    final Timed[] outward = {};

    final AtomicLong shared = new AtomicLong();

    Path file() {
        return Path.of("file");
    }
}
