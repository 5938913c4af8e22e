"""The worker's jobs: everything slow that must not keep a page waiting.

A task is a module-level function under `@task()`, given only values that JSON can
hold. Enqueue it after the commit of what it needs:

    transaction.on_commit(partial(send_mail.enqueue, str(mail.pk)))
"""

from django_tasks import task

__all__ = ["task"]
