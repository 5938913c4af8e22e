"""Static files under names that carry a hash of what is in them."""

from django.contrib.staticfiles.storage import ManifestStaticFilesStorage


class HashedStaticFiles(ManifestStaticFilesStorage):
    """Renames imports inside JavaScript modules too, so they may be cached for good."""

    support_js_module_import_aggregation = True
