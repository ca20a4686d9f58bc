package catchbay.hardware.systemd;

import catchbay.hardware.clock.LoopHealth;
import catchbay.port.PortException;
import catchbay.port.Supervisor;

import java.util.Map;
import java.util.Optional;
import java.util.concurrent.locks.LockSupport;

/**
 * Sends the news of a service: ready, what it is doing, and that it is alive. A thread of its own
 * sends, since the loop may touch no socket; but it says "alive" only while the loop goes round, or
 * need not. Hung up in a turn, the loop is ended by systemd, and the watchdog relay makes the bay
 * safe.
 *
 * <p>Source: the manual pages sd_notify(3) and sd_watchdog_enabled(3).
 */
final class ServiceNews implements Supervisor {

    /** How often news are looked for where no watchdog asks for more. */
    private static final long LOOK_NANOS = 500_000_000;

    private static final long CLOSE_MILLIS_MAX = 2000;
    private static final String READY = "READY=1";
    private static final String ALIVE = "WATCHDOG=1";
    private static final String STOPPING = "STOPPING=1";
    private static final String STATUS = "STATUS=";

    private final Optional<NoticeSocket> socket;
    private final long watchdogNanos;
    private final Thread sender = new Thread(this::send, "service news");
    private final LoopHealth health = new LoopHealth();
    private volatile String status = "";
    private volatile boolean turned;
    private volatile boolean closing;

    private ServiceNews(Optional<NoticeSocket> socket, long watchdogNanos) {
        this.socket = socket;
        this.watchdogNanos = watchdogNanos;
        if (socket.isPresent()) {
            sender.setDaemon(true);
            sender.start();
        }
    }

    /**
     * News for whoever the environment names; none where it names nobody.
     *
     * @param environment the program's: NOTIFY_SOCKET, WATCHDOG_USEC, WATCHDOG_PID
     * @param process the program's own number
     * @throws PortException when a socket is named that cannot be reached
     */
    static ServiceNews of(Map<String, String> environment, long process) throws PortException {
        String address = environment.getOrDefault("NOTIFY_SOCKET", "");
        if (address.isEmpty()) {
            return new ServiceNews(Optional.empty(), 0);
        }
        return new ServiceNews(
                Optional.of(NoticeSocket.to(address)), watchdogNanos(environment, process));
    }

    private static long watchdogNanos(Map<String, String> environment, long process) {
        String whose = environment.getOrDefault("WATCHDOG_PID", Long.toString(process));
        String micros = environment.getOrDefault("WATCHDOG_USEC", "");
        boolean ours = whose.equals(Long.toString(process)) && micros.matches("[0-9]{1,15}");
        return ours ? 1000 * Long.parseLong(micros) : 0;
    }

    @Override
    public void turn(String words) {
        health.turned();
        status = words;
        turned = true;
    }

    @Override
    public boolean isTold() {
        return socket.isPresent();
    }

    @Override
    public void idle() {
        health.idle();
        status = "no catch under way";
    }

    @Override
    public void close() {
        if (socket.isEmpty() || closing) {
            return;
        }
        closing = true;
        LockSupport.unpark(sender);
        try {
            sender.join(CLOSE_MILLIS_MAX);
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
    }

    private void send() {
        NoticeSocket to = socket.orElseThrow();
        boolean ready = false;
        String told = "";
        // Half of the time allowed, as sd_watchdog_enabled(3) advises.
        long look = watchdogNanos == 0 ? LOOK_NANOS : Math.min(LOOK_NANOS, watchdogNanos / 2);
        while (!closing) {
            if (turned && !ready) {
                ready = to.tell(READY);
            }
            String now = status;
            if (!now.equals(told) && to.tell(STATUS + now)) {
                told = now;
            }
            if (watchdogNanos != 0 && health.isWell()) {
                to.tell(ALIVE);
            }
            LockSupport.parkNanos(look);
        }
        to.tell(STOPPING);
        to.close();
    }
}
