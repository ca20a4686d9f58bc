package catchbay.architecture.planted.app;

import java.util.List;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;

/** Planted: threads without a named owner. */
final class Threaded {

    Thread thread() {
        return new Thread(() -> {});
    }

    Thread virtual() {
        return Thread.ofVirtual().unstarted(() -> {});
    }

    ExecutorService pool() {
        return Executors.newSingleThreadExecutor();
    }

    long parallel(List<String> parts) {
        return parts.parallelStream().count() + parts.stream().parallel().count();
    }
}
