package catchbay.architecture.planted.run;

import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Date;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;
import java.util.function.LongSupplier;

/** Planted: every way to the real clock. */
public final class Timed {

    long nanos() {
        return System.nanoTime();
    }

    LongSupplier millis() {
        return System::currentTimeMillis;
    }

    Instant instant() {
        return Instant.now();
    }

    LocalDate today() {
        return LocalDate.now(Clock.systemUTC());
    }

    Date date() {
        return new Date();
    }

    void waits() throws InterruptedException {
        Thread.sleep(1);
        TimeUnit.SECONDS.sleep(1);
        LockSupport.parkNanos(1);
    }
}
